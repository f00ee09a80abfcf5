//! Kills a real process at every call to the disk, in every command that writes beside a maker's
//! files, and looks at what is left.
//!
//! The process is this test program once more, told to run one test only: [`child`], which does the
//! command and stops dead at one call, half of a write done. It is killed there, so that nothing of
//! it can clean up.

use std::cell::Cell;
use std::collections::BTreeMap;
use std::fs;
use std::io::{self, BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use rayon::prelude::*;

use crate::commands::disk::{Disk, Real};
use crate::commands::mark::mark_on;
use crate::commands::photo::photo_on;
use crate::commands::plan::{FORGOTTEN, plan_on};
use crate::commands::recut::{present, recut_on, undo_on};
use crate::commands::wish::wish_on;
use crate::commands::{
    Failure, Happened, MarkOrder, PlanOrder, RecutOrder, mark, plan, recut, undo,
};
use crate::job::{Finished, JobFiles};
use crate::layout::Silent;

const FOLDER: &str = "GRAINROW_TEST_FOLDER";
const STEP: &str = "GRAINROW_TEST_STEP";
const CALLS: &str = "GRAINROW_TEST_CALLS";
const DEAD: &str = "stopped dead";

mod beside;
mod full;

/// Every file below a folder, and its bytes.
type Tree = BTreeMap<PathBuf, Vec<u8>>;

/// A disk that counts calls, and stops dead after so many.
struct Deadly {
    calls: Cell<usize>,
    dead_after: usize,
}

impl Deadly {
    fn after(calls: usize) -> Deadly {
        Deadly {
            calls: Cell::new(0),
            dead_after: calls,
        }
    }

    fn lives(&self) -> bool {
        self.calls.set(self.calls.get() + 1);
        self.calls.get() <= self.dead_after
    }

    fn call(&self) {
        if !self.lives() {
            stop_dead();
        }
    }
}

/// Tells the parent, past whatever catches a test's output, and waits to be killed.
fn stop_dead() {
    let mut out = io::stdout().lock();
    writeln!(out, "\n{DEAD}").unwrap();
    out.flush().unwrap();
    loop {
        std::thread::park();
    }
}

impl Disk for Deadly {
    fn make_folder(&self, path: &Path) -> io::Result<()> {
        self.call();
        Real.make_folder(path)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        if !self.lives() {
            Real.write(path, &bytes[..bytes.len() / 2])?;
            stop_dead();
        }
        Real.write(path, bytes)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call();
        Real.rename(from, to)
    }

    fn remove_file(&self, path: &Path) -> io::Result<()> {
        self.call();
        Real.remove_file(path)
    }

    fn remove_folder(&self, path: &Path) -> io::Result<()> {
        self.call();
        Real.remove_folder(path)
    }
}

/// A command of the story.
#[derive(Clone, Copy, Debug)]
enum Step {
    Mark,
    Recut,
    Undo,
    Anew,
    Wish,
    Photo,
}

const ALL: [Step; 6] = [
    Step::Mark,
    Step::Recut,
    Step::Undo,
    Step::Anew,
    Step::Wish,
    Step::Photo,
];

impl Step {
    fn run(self, disk: &dyn Disk, folder: &Path) {
        self.try_run(disk, folder).unwrap();
    }

    fn try_run(self, disk: &dyn Disk, folder: &Path) -> Result<(), Failure> {
        match self {
            Step::Mark => mark_on(disk, &spoiled(folder)).map(drop),
            Step::Recut => recut_on(disk, &order(folder), &Silent).map(drop),
            Step::Undo => undo_on(disk, &order(folder)).map(drop),
            Step::Anew => plan_on(disk, &anew(folder), &Silent).map(drop),
            Step::Wish => wish_on(disk, &beside::wished(folder), &Silent).map(drop),
            Step::Photo => photo_on(disk, &beside::accepted(folder), &|_, _| {}).map(drop),
        }
    }

    /// A job on which it can be done.
    fn base(self) -> tempfile::TempDir {
        let base = match self {
            Step::Wish => beside::wished_before(),
            Step::Photo => beside::photographed_before(),
            _ => begun_job(),
        };
        if matches!(self, Step::Recut | Step::Undo) {
            mark(&spoiled(base.path())).unwrap();
        }
        if matches!(self, Step::Undo) {
            recut(&order(base.path()), &Silent).unwrap();
        }
        base
    }

    fn named(name: &str) -> Step {
        let found = ALL.into_iter().find(|step| format!("{step:?}") == name);
        found.expect("a step's name")
    }
}

fn order(folder: &Path) -> RecutOrder {
    RecutOrder {
        folder: folder.to_owned(),
        ..RecutOrder::default()
    }
}

fn anew(folder: &Path) -> PlanOrder {
    PlanOrder {
        folder: folder.to_owned(),
        force: true,
        ..PlanOrder::default()
    }
}

fn marked(folder: &Path, names: &[&str], now: Option<Finished>) -> MarkOrder {
    MarkOrder {
        folder: folder.to_owned(),
        out: None,
        what: Happened::Fronts {
            names: names.iter().map(|&name| name.to_owned()).collect(),
            now,
            notes: String::new(),
        },
    }
}

fn spoiled(folder: &Path) -> MarkOrder {
    marked(folder, &["left"], None)
}

/// A job of three fronts and three boards, planned.
fn planned_job() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write(
        "boards.csv",
        "# mine\nboard,length,width,thickness,tone\nB1,60,6,5/4,5\nB2,40,6,5/4,5\nB3,40,6 1/2,5/4,5\n",
    );
    write(
        "fronts.csv",
        "front,width,height,thickness,run\nleft,14,5,3/4,row\nright,14,5,3/4,row\nlow,24,5,3/4,\n",
    );
    write("job.toml", "# mine too\n");
    plan(
        &PlanOrder {
            folder: folder.path().to_owned(),
            ..PlanOrder::default()
        },
        &Silent,
    )
    .unwrap();
    folder
}

/// The same, with two blanks cut.
fn begun_job() -> tempfile::TempDir {
    let folder = planned_job();
    mark(&marked(
        folder.path(),
        &["left", "right"],
        Some(Finished::Cut),
    ))
    .unwrap();
    folder
}

/// The child of the tests below: does one step, and stops dead at one call to the disk.
#[test]
#[ignore = "the other tests here run it, in a process to be killed"]
fn child() {
    let Ok(folder) = std::env::var(FOLDER) else {
        return;
    };
    let step = Step::named(&std::env::var(STEP).unwrap());
    let calls = std::env::var(CALLS).unwrap().parse().unwrap();
    step.run(&Deadly::after(calls), Path::new(&folder));
}

/// Does a step in another process and kills it at its `calls`th call to the disk.
fn killed(step: Step, folder: &Path, calls: usize) {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args([
            "commands::crash::child",
            "--exact",
            "--ignored",
            "--nocapture",
        ])
        .env(FOLDER, folder)
        .env(STEP, format!("{step:?}"))
        .env(CALLS, calls.to_string())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let dead = lines.map_while(Result::ok).any(|line| line == DEAD);
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(dead, "{step:?} ended before call {calls}");
}

/// How many calls to the disk a step takes; done in a copy of the folder.
fn calls_of(step: Step, folder: &Path) -> usize {
    let copy = copied(folder);
    let disk = Deadly::after(usize::MAX);
    step.run(&disk, copy.path());
    disk.calls.get()
}

fn copied(folder: &Path) -> tempfile::TempDir {
    let copy = tempfile::tempdir().unwrap();
    for (name, bytes) in tree(folder) {
        let path = copy.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
    copy
}

fn tree(folder: &Path) -> Tree {
    let mut files = Tree::new();
    let mut open = vec![folder.to_owned()];
    while let Some(at) = open.pop() {
        for entry in fs::read_dir(&at).unwrap().map(Result::unwrap) {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_owned();
                files.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    files
}

/// The maker's own files: all outside the output folder.
fn own(tree: &Tree) -> Tree {
    let own = |name: &Path| !name.starts_with("out");
    let files = tree.iter().filter(|(name, _)| own(name));
    files
        .map(|(name, bytes)| (name.clone(), bytes.clone()))
        .collect()
}

/// The plan in a folder of plans, without the seconds it took.
fn plan_in(folder: &Path, out: &str) -> crate::plan::Plan {
    let job = JobFiles::read(folder).unwrap().parse().unwrap().job;
    let mut plan = present(&job, &folder.join(out)).unwrap().1.plan;
    plan.totals.seconds = 0.0;
    plan
}

/// Every file the list in a folder of plans names is there.
fn is_whole(folder: &Path, out: &str) {
    let out = folder.join(out);
    let listed = crate::commands::shelf::listed(&out);
    assert!(listed.contains(&"plan.json".to_owned()));
    for name in listed {
        assert!(out.join(&name).is_file(), "{name} is missing");
    }
}

#[test]
fn a_recut_killed_at_any_call_leaves_the_old_plan_or_the_new_and_nothing_is_lost() {
    let base = begun_job();
    mark(&spoiled(base.path())).unwrap();
    let before = tree(base.path());
    let (old, new) = {
        let copy = copied(base.path());
        let old = plan_in(copy.path(), "out");
        recut(&order(copy.path()), &Silent).unwrap();
        (old, plan_in(copy.path(), "out"))
    };
    assert_ne!(old.boards, new.boards);
    let calls = calls_of(Step::Recut, base.path());
    assert!(calls > 60, "{calls} calls");
    (0..calls).into_par_iter().for_each(|at| {
        let copy = copied(base.path());
        let folder = copy.path();
        killed(Step::Recut, folder, at);
        assert_eq!(own(&tree(folder)), own(&before), "killed at call {at}");
        drop(crate::commands::shelf::Shelf::open(&Real, &folder.join("out"), folder).unwrap());
        is_whole(folder, "out");
        let present = plan_in(folder, "out");
        if present == new {
            assert_eq!(plan_in(folder, "out/before/1"), old, "killed at call {at}");
            is_whole(folder, "out/before/1");
        } else {
            assert_eq!(present, old, "killed at call {at}");
        }
        // The next recut is not troubled by it, and the way back is still there.
        recut(&order(folder), &Silent).unwrap();
        assert_eq!(plan_in(folder, "out"), new, "killed at call {at}");
        undo(&order(folder)).unwrap();
        assert_eq!(plan_in(folder, "out"), old, "killed at call {at}");
    });
}

#[test]
fn an_undo_killed_at_any_call_leaves_one_of_the_two_plans_and_both_somewhere() {
    let base = begun_job();
    mark(&spoiled(base.path())).unwrap();
    let old = plan_in(base.path(), "out");
    recut(&order(base.path()), &Silent).unwrap();
    let (new, before) = (plan_in(base.path(), "out"), tree(base.path()));
    (0..calls_of(Step::Undo, base.path()))
        .into_par_iter()
        .for_each(|at| {
            let copy = copied(base.path());
            let folder = copy.path();
            killed(Step::Undo, folder, at);
            assert_eq!(own(&tree(folder)), own(&before), "killed at call {at}");
            drop(crate::commands::shelf::Shelf::open(&Real, &folder.join("out"), folder).unwrap());
            is_whole(folder, "out");
            let present = plan_in(folder, "out");
            let other = if present == old {
                (new.clone(), "out/undone/1")
            } else {
                (old.clone(), "out/before/1")
            };
            assert!(present == old || present == new, "killed at call {at}");
            assert_eq!(plan_in(folder, other.1), other.0, "killed at call {at}");
        });
}

#[test]
fn a_mark_killed_at_any_call_leaves_the_file_as_it_was_or_as_it_should_be() {
    one_file_killed(Step::Mark, "done.csv");
}

/// Kills a step that changes one of the maker's files at each call: the file is the old one or the
/// new one, whole, and with the new one the old one is beside it. Nothing else has changed.
fn one_file_killed(step: Step, name: &str) {
    let base = step.base();
    let before = tree(base.path());
    let after = {
        let copy = copied(base.path());
        step.run(&Real, copy.path());
        tree(copy.path())
    };
    let (file, backup) = (PathBuf::from(name), PathBuf::from(format!("{name}.bak")));
    assert_ne!(before[&file], after[&file], "{step:?} changes nothing");
    let calls = calls_of(step, base.path());
    assert!(calls >= 4, "{step:?}: {calls} calls");
    (0..calls).into_par_iter().for_each(|at| {
        let copy = copied(base.path());
        killed(step, copy.path(), at);
        let now = tree(copy.path());
        let others = before
            .iter()
            .filter(|(name, _)| **name != file && **name != backup);
        for (name, bytes) in others {
            assert_eq!(now.get(name), Some(bytes), "killed at call {at}: {name:?}");
        }
        if now[&file] == after[&file] {
            assert_eq!(now[&backup], before[&file], "killed at call {at}");
        } else {
            assert_eq!(now[&file], before[&file], "killed at call {at}");
        }
        // What the killed process left beside the files troubles nobody.
        JobFiles::read(copy.path()).unwrap().parse().unwrap();
    });
}

#[test]
fn a_plan_made_anew_killed_at_any_call_goes_with_its_marks() {
    let base = Step::Anew.base();
    let marks = fs::read_to_string(base.path().join("done.csv")).unwrap();
    let calls = calls_of(Step::Anew, base.path());
    assert!(calls > 60, "{calls} calls");
    (0..calls).into_par_iter().for_each(|at| {
        let copy = copied(base.path());
        let (folder, out) = (copy.path(), copy.path().join("out"));
        killed(Step::Anew, folder, at);
        drop(crate::commands::shelf::Shelf::open(&Real, &out, folder).unwrap());
        is_whole(folder, "out");
        let read = |name: &str| fs::read_to_string(folder.join(name)).unwrap();
        if crate::commands::shelf::listed(&out)
            .iter()
            .any(|name| name == FORGOTTEN)
        {
            is_whole(folder, "out/before/1");
            assert!(read("done.csv").contains("anew"), "killed at call {at}");
            assert_eq!(read("done.csv.bak"), marks, "killed at call {at}");
        } else {
            assert_eq!(read("done.csv"), marks, "killed at call {at}");
        }
    });
}
