//! One thread that plans whatever the job's files say now.
//!
//! Every change gives the files a new number. A search for an older number is stopped, what it
//! found is thrown away, and the newest is planned: first within milliseconds and without a proof,
//! then until it is proved best.

mod best;
mod watch;

pub use best::{Best, BestKind, Stage};

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::Duration;

use serde_json::json;

use super::hub::Hub;
use super::show;
use crate::commands::{Failure, PlanOrder, RecutOrder, find, outline, preview, sketch};
use crate::job::Faults;
use crate::layout::{Request, WarmStart};
use watch::Newer;

/// How long a plan is searched for: what is not proved by then is shown with its gap.
pub const PATIENCE: Duration = Duration::from_secs(60);

/// What the thread and those who ask it share.
#[derive(Debug)]
pub struct Shared {
    /// The number of what the files say now.
    wanted: AtomicU64,
    closing: AtomicBool,
    asleep: Mutex<()>,
    wake: Condvar,
    /// What is known of the newest files.
    known: Mutex<Known>,
}

/// What is known so far.
#[derive(Clone, Debug, Default)]
pub struct Known {
    /// The number of the files the faults are of.
    pub version: u64,
    /// What is wrong with them, and what is only to be told.
    pub faults: serde_json::Value,
    /// The last good plan, perhaps of older files.
    pub best: Option<Arc<Best>>,
}

/// The thread.
#[derive(Debug)]
pub struct Planner {
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
}

impl Planner {
    /// Plans the job in a folder from now on, and tells what it finds.
    pub fn start(folder: &Path, hub: Hub) -> Planner {
        let shared = Arc::new(Shared {
            wanted: AtomicU64::new(1),
            closing: AtomicBool::new(false),
            asleep: Mutex::new(()),
            wake: Condvar::new(),
            known: Mutex::default(),
        });
        let work = Work {
            shared: Arc::clone(&shared),
            folder: folder.to_owned(),
            hub,
        };
        let thread = std::thread::Builder::new().name("plans".to_owned());
        Planner {
            shared,
            // Without a thread nothing is planned, and the tables can be filled all the same.
            thread: thread.spawn(move || work.run()).ok(),
        }
    }

    /// The files have changed.
    pub fn again(&self) -> u64 {
        let version = self.shared.wanted.fetch_add(1, Ordering::SeqCst) + 1;
        self.shared.wake();
        version
    }

    /// The number of what the files say now.
    pub fn version(&self) -> u64 {
        self.shared.wanted.load(Ordering::SeqCst)
    }

    /// What is known so far.
    pub fn known(&self) -> Known {
        self.shared.known().clone()
    }

    /// What the last search knew: files that follow one another differ in little.
    pub fn warm_start(&self) -> WarmStart {
        self.shared.warm_start()
    }

    /// Someone who waits for another search that a change makes idle.
    pub fn watch(&self) -> impl crate::layout::Watch + use<> {
        Newer::silent(&self.shared)
    }

    /// Someone who waits for a search that goes on whatever changes, until the job is put away.
    pub fn until_closed(&self) -> impl crate::layout::Watch + use<> {
        Newer::lasting(&self.shared)
    }
}

impl Drop for Planner {
    fn drop(&mut self) {
        self.shared.closing.store(true, Ordering::SeqCst);
        self.shared.wake();
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

impl Shared {
    fn known(&self) -> std::sync::MutexGuard<'_, Known> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn warm_start(&self) -> WarmStart {
        let known = self.known();
        known
            .best
            .as_ref()
            .map_or_else(WarmStart::default, |best| best.warm_start())
    }

    fn wake(&self) {
        let _asleep = self.asleep.lock();
        self.wake.notify_all();
    }

    fn is_newest(&self, version: u64) -> bool {
        self.wanted.load(Ordering::SeqCst) == version && !self.is_closing()
    }

    fn is_closing(&self) -> bool {
        self.closing.load(Ordering::SeqCst)
    }

    /// Waits until there is something newer than `done`; nothing when it is time to end.
    fn next(&self, done: u64) -> Option<u64> {
        let mut asleep = self.asleep.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            if self.is_closing() {
                return None;
            }
            let wanted = self.wanted.load(Ordering::SeqCst);
            if wanted != done {
                return Some(wanted);
            }
            asleep = self
                .wake
                .wait(asleep)
                .unwrap_or_else(PoisonError::into_inner);
        }
    }
}

struct Work {
    shared: Arc<Shared>,
    folder: PathBuf,
    hub: Hub,
}

impl Work {
    fn run(&self) {
        let mut done = 0;
        while let Some(version) = self.shared.next(done) {
            self.hub.tell("planning", &json!({ "version": version }));
            let planned = catch_unwind(AssertUnwindSafe(|| self.plan(version)));
            let failed = match planned {
                Ok(Ok(())) => None,
                Ok(Err(failure)) => Some(failure.to_string()),
                Err(_) => Some(
                    "this is a fault of grainrow, not of your job: please report it with the job's \
                     folder"
                        .to_owned(),
                ),
            };
            if let Some(words) = failed.filter(|_| self.shared.is_newest(version)) {
                let failed = json!({ "version": version, "words": words });
                self.hub.tell("failed", &failed);
                self.tell_faults(version, &Faults::new(), Some(&words));
            }
            done = version;
        }
    }

    fn plan(&self, version: u64) -> Result<(), Failure> {
        let order = PlanOrder {
            folder: self.folder.clone(),
            request: request(),
            warm: self.shared.warm_start(),
            ..PlanOrder::default()
        };
        match sketch(&order) {
            Ok(found) => {
                self.tell_faults(version, &found.reading.findings, None);
                self.tell(version, Stage::First, Best::plan(found));
            }
            Err(Failure::Faults(faults)) => {
                self.tell_faults(version, &faults, None);
                return Ok(());
            }
            Err(Failure::AlreadyBegun) => return self.recut(version),
            // The next search tells what is wrong, if it is.
            Err(_) => {}
        }
        let watch = Newer::telling(&self.shared, version, &self.hub);
        if !self.shared.is_newest(version) {
            return Ok(());
        }
        let found = find(&order, &watch)?;
        self.tell(version, Stage::Last, Best::plan(found));
        Ok(())
    }

    /// Once something is cut, the plan is what is left to do.
    fn recut(&self, version: u64) -> Result<(), Failure> {
        let order = RecutOrder {
            folder: self.folder.clone(),
            request: request(),
            ..RecutOrder::default()
        };
        let watch = Newer::telling(&self.shared, version, &self.hub);
        match preview(&order, &watch) {
            Ok(found) => {
                self.tell_faults(version, &found.reading.findings, None);
                self.tell(version, Stage::Last, Best::recut(found));
                Ok(())
            }
            Err(Failure::Faults(faults)) => {
                self.tell_faults(version, &faults, None);
                Ok(())
            }
            Err(other) => Err(other),
        }
    }

    fn tell(&self, version: u64, stage: Stage, best: Best) {
        if !self.shared.is_newest(version) {
            return;
        }
        let best = Arc::new(Best {
            version,
            stage,
            ..best
        });
        // Known before it is told: who hears of it and asks for everything gets no older plan.
        let news = show::plan(&best);
        self.shared.known().best = Some(best);
        self.hub.tell("plan", &news);
    }

    fn tell_faults(&self, version: u64, faults: &Faults, failed: Option<&str>) {
        if !self.shared.is_newest(version) {
            return;
        }
        let forbid = faults.forbid_use() || failed.is_some();
        // Without boards the piece can be seen all the same.
        let case = forbid.then(|| outline(&self.folder)).flatten();
        let value = json!({
            "version": version,
            "forbid": forbid,
            "faults": faults,
            "failed": failed,
            "case": case.map(|case| show::outline(&case.job)),
        });
        {
            let mut known = self.shared.known();
            known.version = version;
            known.faults = value.clone();
        }
        self.hub.tell("faults", &value);
    }
}

/// How the page plans.
fn request() -> Request {
    Request {
        time: Some(PATIENCE),
        ..Request::default()
    }
}
