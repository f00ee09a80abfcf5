//! The log of plans: `out/` holds the present one, `out/before/<n>/` the earlier ones.
//!
//! A new plan is first written in full beside the present one, under `.coming-part`. Renaming that
//! to `.coming` decides that it will be the present one; whatever is left to do then (shelving the
//! present one, putting the new one in its place) can be done again and again with the same end.
//! So a crash leaves either the old plan, or a new one that the next command puts in its place.

use std::fs;
use std::io;
use std::path::{Component, Path, PathBuf};

use super::disk::{Disk, replace_with_backup};
use super::{Failure, Output};
use crate::job::DONE_CSV;

/// Names the files of a plan, a line each; never one of them itself.
const LIST: &str = ".written";
/// Earlier plans, by number.
const BEFORE: &str = "before";
/// Plans that were present when `recut --undo` was asked for.
const UNDONE: &str = "undone";
const COMING: &str = ".coming";
const COMING_PART: &str = ".coming-part";
const ORDER: &str = "order";
const FILES: &str = "files";
/// What the job's done.csv says from the coming plan on, when that changes with it.
const MARKS: &str = "marks";

/// Makes these files the present plan of the job in `folder`, and shelves the one that is there.
/// `marks` is what its done.csv says from now on, where that changes with the plan.
///
/// # Errors
/// When something can't be written; the present plan is then whole, or the new one is decided on
/// and [`settle`] ends it.
pub(super) fn replace(
    disk: &dyn Disk,
    (out, folder): (&Path, &Path),
    outputs: &[Output],
    marks: Option<&str>,
) -> Result<(), Failure> {
    settle(disk, out, folder)?;
    let number = numbers(&out.join(BEFORE)).last().map_or(1, |last| last + 1);
    let order = Order {
        shelf: format!("{BEFORE}/{number}"),
        taken: String::new(),
        marks,
    };
    bring(disk, (out, folder), outputs, &order)
}

/// The number of the last earlier plan, and its files.
///
/// # Errors
/// When there is none, or it can't be read.
pub(super) fn earlier(out: &Path) -> Result<(u32, Vec<Output>), Failure> {
    let folder = out.join(BEFORE);
    let Some(number) = numbers(&folder).last().copied() else {
        return Err(Failure::NoEarlierPlan {
            out: out.to_owned(),
        });
    };
    let folder = folder.join(number.to_string());
    let files = listed(&folder).into_iter().map(|name| {
        let path = folder.join(&name);
        let bytes = fs::read(&path).map_err(|why| failed(&path, why))?;
        Ok((name, bytes))
    });
    Ok((number, files.collect::<Result<_, Failure>>()?))
}

/// Makes an earlier plan the present one again. The one that is there goes to `out/undone/`.
///
/// # Errors
/// As for [`replace`].
pub(super) fn go_back(
    disk: &dyn Disk,
    (out, folder): (&Path, &Path),
    number: u32,
    files: &[Output],
    marks: Option<&str>,
) -> Result<(), Failure> {
    let undone = numbers(&out.join(UNDONE)).last().map_or(1, |last| last + 1);
    let order = Order {
        shelf: format!("{UNDONE}/{undone}"),
        taken: format!("{BEFORE}/{number}"),
        marks,
    };
    bring(disk, (out, folder), files, &order)
}

/// What is to be done with a coming plan.
struct Order<'a> {
    /// Where the present plan goes.
    shelf: String,
    /// The shelved plan that the coming one is, if it is one.
    taken: String,
    /// What done.csv says from then on, where that changes.
    marks: Option<&'a str>,
}

/// Ends what a crash left half done.
///
/// # Errors
/// When it can't be ended; asking again later does no harm.
pub(super) fn settle(disk: &dyn Disk, out: &Path, folder: &Path) -> Result<(), Failure> {
    let coming = out.join(COMING);
    let Ok(order) = fs::read_to_string(coming.join(ORDER)) else {
        return Ok(());
    };
    let mut lines = order.lines();
    let (shelf, taken) = (lines.next().unwrap_or(""), lines.next().unwrap_or(""));
    shelve(disk, out, shelf)?;
    put_in_place(disk, out, &coming.join(FILES))?;
    if let Ok(marks) = fs::read(coming.join(MARKS)) {
        let done = folder.join(DONE_CSV);
        // Once is enough: the second time the text before would be lost from its backup.
        if fs::read(&done).ok().as_ref() != Some(&marks) {
            at(&done, replace_with_backup(disk, &done, &marks))?;
        }
    }
    if !taken.is_empty() {
        let taken = out.join(taken);
        at(&taken, disk.remove_folder(&taken))?;
    }
    let part = out.join(COMING_PART);
    at(&part, disk.remove_folder(&part))?;
    at(&coming, disk.rename(&coming, &part))?;
    at(&part, disk.remove_folder(&part))
}

/// Writes the new plan beside the present one, decides on it, and puts it in its place.
fn bring(
    disk: &dyn Disk,
    (out, folder): (&Path, &Path),
    outputs: &[Output],
    order: &Order<'_>,
) -> Result<(), Failure> {
    let part = out.join(COMING_PART);
    at(&part, disk.remove_folder(&part))?;
    let mut names: Vec<&str> = outputs.iter().map(|(name, _)| name.as_str()).collect();
    names.sort_unstable();
    let list = names.join("\n") + "\n";
    for (name, bytes) in outputs {
        write(disk, &part.join(FILES).join(name), bytes)?;
    }
    write(disk, &part.join(FILES).join(LIST), list.as_bytes())?;
    write(
        disk,
        &part.join(ORDER),
        format!("{}\n{}\n", order.shelf, order.taken).as_bytes(),
    )?;
    if let Some(marks) = order.marks {
        write(disk, &part.join(MARKS), marks.as_bytes())?;
    }
    let coming = out.join(COMING);
    at(&coming, disk.rename(&part, &coming))?;
    settle(disk, out, folder)
}

/// Copies the present plan to its place on the shelf, unless that is done already.
fn shelve(disk: &dyn Disk, out: &Path, shelf: &str) -> Result<(), Failure> {
    let (place, names) = (out.join(shelf), listed(out));
    if names.is_empty() || place.exists() {
        return Ok(());
    }
    let part = out.join(format!("{shelf}-part"));
    at(&part, disk.remove_folder(&part))?;
    for name in names.iter().map(String::as_str).chain([LIST]) {
        let path = out.join(name);
        match fs::read(&path) {
            Ok(bytes) => write(disk, &part.join(name), &bytes)?,
            // The maker may have thrown a drawing away.
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(why) => return Err(failed(&path, why)),
        }
    }
    at(&place, disk.rename(&part, &place))
}

/// Moves the new files in, clears away those the old plan had and the new one has not, and last of
/// all says whose files they are.
fn put_in_place(disk: &dyn Disk, out: &Path, files: &Path) -> Result<(), Failure> {
    let new = listed(files);
    if !files.join(LIST).exists() {
        return Ok(());
    }
    for name in &new {
        let (from, to) = (files.join(name), out.join(name));
        if from.exists() {
            let folder = to.parent().unwrap_or(out);
            at(folder, disk.make_folder(folder))?;
            at(&to, disk.rename(&from, &to))?;
        }
    }
    for name in listed(out).iter().filter(|name| !new.contains(name)) {
        let path = out.join(name);
        at(&path, disk.remove_file(&path))?;
        remove_if_empty(out, Path::new(name).parent());
    }
    let (from, to) = (files.join(LIST), out.join(LIST));
    at(&to, disk.rename(&from, &to))
}

/// Removes folders within `out` that hold nothing any more.
fn remove_if_empty(out: &Path, folder: Option<&Path>) {
    let folders = folder.into_iter().flat_map(Path::ancestors);
    for folder in folders.filter(|folder| *folder != Path::new("")) {
        // Where something else is in it, it stays.
        if fs::remove_dir(out.join(folder)).is_err() {
            return;
        }
    }
}

fn write(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let folder = path.parent().unwrap_or(Path::new("."));
    at(folder, disk.make_folder(folder))?;
    at(path, disk.write(path, bytes))
}

fn at(path: &Path, result: io::Result<()>) -> Result<(), Failure> {
    result.map_err(|why| failed(path, why))
}

fn failed(path: &Path, why: io::Error) -> Failure {
    Failure::Write {
        path: path.to_owned(),
        why,
    }
}

/// The files of the plan in a folder, but none that would lead out of it.
pub(super) fn listed(folder: &Path) -> Vec<String> {
    let list = fs::read_to_string(folder.join(LIST)).unwrap_or_default();
    let inside = |name: &&str| {
        let mut parts = Path::new(name).components().peekable();
        parts.peek().is_some() && parts.all(|part| matches!(part, Component::Normal(_)))
    };
    list.lines().filter(inside).map(str::to_owned).collect()
}

/// The numbers of the folders in a folder, least first.
fn numbers(folder: &Path) -> Vec<u32> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let number = |entry: fs::DirEntry| -> Option<u32> {
        let path: PathBuf = entry.path();
        path.file_name()?.to_str()?.parse().ok()
    };
    let mut numbers: Vec<u32> = entries.filter_map(number).collect();
    numbers.sort_unstable();
    numbers
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::disk::{Real, testing::Unplugged};

    fn put(out: &Path, outputs: &[Output]) {
        replace(&Real, (out, out), outputs, None).unwrap();
    }

    fn plan(mark: &str, boards: &[&str]) -> Vec<Output> {
        let file = |name: &str| (name.to_owned(), format!("{name} of {mark}").into_bytes());
        let boards = boards
            .iter()
            .map(|board| file(&format!("boards/{board}.svg")));
        [file("plan.json"), file("marks.csv")]
            .into_iter()
            .chain(boards)
            .collect()
    }

    /// The files of the plan in a folder with their texts.
    fn read(folder: &Path) -> Vec<Output> {
        let text = |name: String| {
            let bytes = fs::read(folder.join(&name)).unwrap();
            (name, bytes)
        };
        listed(folder).into_iter().map(text).collect()
    }

    fn sorted(mut outputs: Vec<Output>) -> Vec<Output> {
        outputs.sort();
        outputs
    }

    #[test]
    fn earlier_plans_are_numbered_and_undo_goes_back_one_by_one() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("out");
        for (mark, board) in [("first", "B1"), ("second", "B2"), ("third", "B3")] {
            put(&out, &plan(mark, &[board]));
        }
        assert_eq!(read(&out.join("before/1")), sorted(plan("first", &["B1"])));
        assert_eq!(read(&out.join("before/2")), sorted(plan("second", &["B2"])));
        assert!(!out.join("boards/B2.svg").exists());
        for mark in ["second", "first"] {
            let (number, files) = earlier(&out).unwrap();
            go_back(&Real, (&out, &out), number, &files, None).unwrap();
            let board = if mark == "first" { "B1" } else { "B2" };
            assert_eq!(read(&out), sorted(plan(mark, &[board])));
        }
        assert_eq!(read(&out.join("undone/1")), sorted(plan("third", &["B3"])));
        assert!(matches!(earlier(&out), Err(Failure::NoEarlierPlan { .. })));
    }

    /// Pulls the plug before every single call in turn, then lets the next command go on.
    #[test]
    fn a_crash_at_any_write_leaves_the_old_plan_or_the_new_and_nothing_lost() {
        let (old, new) = (plan("old", &["B1", "B2"]), plan("new", &["B2", "B3"]));
        let mut calls = 0;
        loop {
            let folder = tempfile::tempdir().unwrap();
            let out = folder.path().join("out");
            put(&out, &old);
            let ended = replace(&Unplugged::after(calls), (&out, &out), &new, None).is_ok();
            settle(&Real, &out, &out).unwrap();
            let present = read(&out);
            if present == sorted(new.clone()) {
                assert_eq!(
                    read(&out.join("before/1")),
                    sorted(old.clone()),
                    "call {calls}"
                );
                assert!(!out.join("boards/B1.svg").exists(), "call {calls}");
            } else {
                assert_eq!(present, sorted(old.clone()), "call {calls}");
            }
            // A plan made after the crash finds all in order.
            put(&out, &plan("next", &[]));
            assert_eq!(read(&out), sorted(plan("next", &[])));
            let shelved = numbers(&out.join(BEFORE)).len();
            assert_eq!(shelved, 1 + usize::from(present == sorted(new.clone())));
            if ended {
                break;
            }
            calls += 1;
        }
        assert!(calls > 20, "the plug was pulled only {calls} times");
    }

    /// Pulls the plug before every call while a plan comes that changes done.csv with it.
    #[test]
    fn a_crash_leaves_the_old_plan_with_its_marks_or_the_new_with_its_own() {
        let (old, new) = (plan("old", &["B1"]), plan("new", &["B2"]));
        let (before, after) = ("front,state\nA,cut\n", "front,state\nA,cut\n,anew\n");
        for calls in 0.. {
            let folder = tempfile::tempdir().unwrap();
            let (job, out) = (folder.path(), folder.path().join("out"));
            let done = job.join(DONE_CSV);
            fs::write(&done, before).unwrap();
            put(&out, &old);
            let unplugged = Unplugged::after(calls);
            let ended = replace(&unplugged, (&out, job), &new, Some(after)).is_ok();
            settle(&Real, &out, job).unwrap();
            let marks = fs::read_to_string(&done).unwrap();
            if read(&out) == sorted(new.clone()) {
                assert_eq!(marks, after, "call {calls}");
                let backup = fs::read_to_string(job.join("done.csv.bak")).unwrap();
                assert_eq!(backup, before, "call {calls}");
            } else {
                assert_eq!(read(&out), sorted(old.clone()), "call {calls}");
                assert_eq!(marks, before, "call {calls}");
            }
            if ended {
                assert!(calls > 10, "the plug was pulled only {calls} times");
                break;
            }
        }
    }

    #[test]
    fn a_list_that_leads_out_of_the_folder_removes_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("out");
        fs::create_dir(&out).unwrap();
        fs::write(folder.path().join("boards.csv"), "mine").unwrap();
        fs::write(out.join(LIST), "../boards.csv\n/etc/hostname\n\n").unwrap();
        put(&out, &plan("new", &[]));
        assert!(folder.path().join("boards.csv").exists());
    }

    #[test]
    fn a_crash_while_going_back_loses_nothing() {
        let (first, second) = (plan("first", &["B1"]), plan("second", &["B2"]));
        for calls in 0.. {
            let folder = tempfile::tempdir().unwrap();
            let out = folder.path().join("out");
            put(&out, &first);
            put(&out, &second);
            let (number, files) = earlier(&out).unwrap();
            let ended =
                go_back(&Unplugged::after(calls), (&out, &out), number, &files, None).is_ok();
            settle(&Real, &out, &out).unwrap();
            if read(&out) == sorted(first.clone()) {
                assert_eq!(
                    read(&out.join("undone/1")),
                    sorted(second.clone()),
                    "call {calls}"
                );
            } else {
                assert_eq!(read(&out), sorted(second.clone()), "call {calls}");
                assert_eq!(
                    read(&out.join("before/1")),
                    sorted(first.clone()),
                    "call {calls}"
                );
            }
            if ended {
                assert!(calls > 15, "the plug was pulled only {calls} times");
                break;
            }
        }
    }

    #[test]
    fn a_crash_while_marking_leaves_the_file_whole_and_the_old_text_somewhere() {
        for calls in 0.. {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("done.csv");
            fs::write(&path, "old").unwrap();
            let ended = replace_with_backup(&Unplugged::after(calls), &path, b"new").is_ok();
            let now = fs::read_to_string(&path).unwrap();
            let backup = fs::read_to_string(folder.path().join("done.csv.bak"));
            match now.as_str() {
                "old" => assert!(backup.is_err() || backup.unwrap() == "old"),
                "new" => assert_eq!(backup.unwrap(), "old"),
                other => panic!("call {calls}: {other}"),
            }
            if ended {
                assert!(calls >= 4);
                break;
            }
        }
    }
}
