//! What the server holds: who is let in, and the job that lies open.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use serde_json::{Value, json};
use tokio::sync::watch;

use super::desk::{Changed, Desk, FILES};
use super::guard::Door;
use super::hub::Hub;
use super::plans::Planner;
use super::show;
use crate::commands::Failure;
use crate::job::JobFiles;

/// Everything the routes ask.
#[derive(Debug)]
pub struct App {
    /// Who may ask.
    pub door: Door,
    /// News for those who are let in.
    pub hub: Hub,
    /// The folder in which jobs are looked for and begun.
    pub home: PathBuf,
    /// Turns true when the server ends.
    pub ending: watch::Sender<bool>,
    open: Mutex<Option<Arc<Open>>>,
}

/// The job that lies open.
#[derive(Debug)]
pub struct Open {
    /// Its files.
    desk: Mutex<Desk>,
    /// Who plans it.
    pub planner: Planner,
    /// Its folder.
    pub folder: PathBuf,
    /// What an estimate last told.
    pub estimate: Mutex<Option<Arc<crate::commands::Estimated>>>,
    hub: Hub,
}

impl App {
    /// Nothing lies open yet.
    pub fn new(door: Door, home: PathBuf) -> App {
        App {
            door,
            hub: Hub::new(),
            home,
            ending: watch::Sender::new(false),
            open: Mutex::default(),
        }
    }

    /// Opens a job's folder.
    ///
    /// # Errors
    /// When it can't be written.
    pub fn open(&self, folder: &Path) -> Result<(), Failure> {
        // Whether there is such a folder, and whether its files are files.
        JobFiles::read(folder)?;
        let desk = Desk::open(folder)?;
        let open = Open {
            desk: Mutex::new(desk),
            planner: Planner::start(folder, self.hub.clone()),
            folder: folder.to_owned(),
            estimate: Mutex::default(),
            hub: self.hub.clone(),
        };
        let before = lock(&self.open).replace(Arc::new(open));
        // Its thread ends outside the lock.
        drop(before);
        self.hub.tell("opened", &json!({}));
        Ok(())
    }

    /// Puts the job away.
    pub fn close(&self) {
        let before = lock(&self.open).take();
        drop(before);
        self.hub.tell("opened", &json!({}));
    }

    /// The job that lies open.
    pub fn job(&self) -> Option<Arc<Open>> {
        lock(&self.open).clone()
    }
}

impl Open {
    /// Its files, for one at a time.
    pub fn desk(&self) -> MutexGuard<'_, Desk> {
        lock(&self.desk)
    }

    /// Tells everybody what has changed, and has it planned. Gives the files' new number.
    pub fn changed(&self, desk: &Desk, changed: &Changed) -> u64 {
        if changed.files.is_empty() {
            return self.planner.version();
        }
        let version = self.planner.again();
        for name in &changed.files {
            let mut file = show::file(desk, name);
            file["version"] = json!(version);
            self.hub.tell("file", &file);
        }
        self.hub.tell("steps", &steps(desk));
        version
    }

    /// Tells everybody that the work in the shop has gone on.
    pub fn tell_shop(&self) {
        self.hub.tell("shop", &json!({}));
    }

    /// Looks whether files were changed beside the page.
    pub fn look(&self) {
        let mut desk = self.desk();
        let changed = desk.look();
        if !changed.files.is_empty() {
            self.changed(&desk, &changed);
            let files = json!({ "files": changed.files });
            self.hub.tell("outside", &files);
        }
    }

    /// All there is to show.
    pub fn state(&self) -> Value {
        let desk = self.desk();
        let known = self.planner.known();
        let files: Vec<Value> = FILES.iter().map(|name| show::file(&desk, name)).collect();
        json!({
            "folder": self.folder.display().to_string(),
            "version": self.planner.version(),
            "files": files,
            "faults": known.faults,
            "plan": known.best.as_deref().map(show::plan),
            "steps": steps(&desk),
        })
    }
}

fn steps(desk: &Desk) -> Value {
    let (undo, redo) = desk.next_steps();
    json!({ "undo": undo, "redo": redo })
}

/// A lock that outlives whoever broke off while holding it.
pub fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
