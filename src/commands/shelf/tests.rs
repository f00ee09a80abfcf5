use std::fs;

use super::*;
use crate::commands::disk::{
    Real, replace_with_backup,
    testing::{Full, Unplugged},
};
use crate::commands::shelf::ours::LIST;
use crate::job::DONE_CSV;

fn replace(
    disk: &dyn Disk,
    (out, folder): (&Path, &Path),
    outputs: &[Output],
    marks: Option<&str>,
) -> Result<(), Failure> {
    Shelf::open(disk, out, folder)?.replace(outputs, marks)
}

fn go_back(
    disk: &dyn Disk,
    (out, folder): (&Path, &Path),
    number: u32,
    files: &[Output],
    marks: Option<&str>,
) -> Result<(), Failure> {
    Shelf::open(disk, out, folder)?.go_back(number, files, marks)
}

fn settle(disk: &dyn Disk, out: &Path, folder: &Path) -> Result<(), Failure> {
    Shelf::open(disk, out, folder).map(drop)
}

fn earlier(out: &Path) -> Result<(u32, Vec<Output>), Failure> {
    Shelf::open(&Real, out, out)?.earlier()
}

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
        let shelved = fs::read_dir(out.join(BEFORE)).unwrap().count();
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
        let ended = go_back(&Unplugged::after(calls), (&out, &out), number, &files, None).is_ok();
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

/// A journal changed by hand, of every way out that was thought of.
#[test]
fn a_journal_that_names_another_place_touches_nothing() {
    for order in [
        "before/1\n../../victim\n",
        "before/1\n../victim\n",
        "before/1\n/tmp\n",
        "../victim\n\n",
        "",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let (out, victim) = (
            folder.path().join("job/out"),
            folder.path().join("job/victim"),
        );
        put(&out, &plan("old", &[]));
        fs::create_dir_all(&victim).unwrap();
        fs::write(victim.join("mine"), "mine").unwrap();
        fs::create_dir(out.join(".coming")).unwrap();
        fs::write(out.join(".coming/order"), order).unwrap();
        let refused = replace(&Real, (&out, &out), &plan("new", &[]), None).unwrap_err();
        assert!(
            matches!(refused, Failure::NotOurs { .. }),
            "{order:?}: {refused}"
        );
        assert_eq!(read(&out), sorted(plan("old", &[])), "{order:?}");
        assert_eq!(fs::read_to_string(victim.join("mine")).unwrap(), "mine");
    }
}

#[cfg(unix)]
#[test]
fn nothing_is_reached_through_a_link() {
    use std::os::unix::fs::symlink;
    for link in [
        "boards",
        "before",
        ".coming",
        ".coming-part",
        ".busy",
        "plan.json",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let (out, victim) = (folder.path().join("out"), folder.path().join("victim"));
        fs::create_dir(&victim).unwrap();
        fs::write(victim.join("order"), "before/1\n\n").unwrap();
        fs::create_dir(&out).unwrap();
        symlink(&victim, out.join(link)).unwrap();
        let refused = replace(&Real, (&out, &out), &plan("new", &["B1"]), None).unwrap_err();
        assert!(
            matches!(refused, Failure::Leads { .. }),
            "{link}: {refused}"
        );
        assert!(refused.to_string().contains(link));
        assert_eq!(fs::read_dir(&victim).unwrap().count(), 1, "{link}");
    }
    // The folder itself may be a link: the maker chose it.
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("real")).unwrap();
    let out = folder.path().join("out");
    symlink(folder.path().join("real"), &out).unwrap();
    put(&out, &plan("new", &["B1"]));
    assert_eq!(
        read(&folder.path().join("real")),
        sorted(plan("new", &["B1"]))
    );
}

/// Pulls the plug before every call, so that a file set aside is never lost either.
#[test]
fn a_file_of_the_makers_own_is_set_aside_whenever_the_plug_is_pulled() {
    for calls in 0.. {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("out");
        fs::create_dir_all(out.join("boards")).unwrap();
        fs::write(out.join("marks.csv"), "my marks").unwrap();
        fs::write(out.join("boards/B1.svg"), "my drawing").unwrap();
        let unplugged = Unplugged::after(calls);
        let ended = replace(&unplugged, (&out, &out), &plan("new", &["B1"]), None).is_ok();
        put(&out, &plan("next", &["B1"]));
        assert_eq!(read(&out), sorted(plan("next", &["B1"])), "call {calls}");
        let text = |name: &str| fs::read_to_string(out.join("yours").join(name)).unwrap();
        assert_eq!(text("marks.csv"), "my marks", "call {calls}");
        assert_eq!(text("boards/B1.svg"), "my drawing", "call {calls}");
        assert!(!out.join("yours-2").exists(), "call {calls}");
        if ended {
            assert!(calls > 10, "the plug was pulled only {calls} times");
            break;
        }
    }
}

#[test]
fn what_is_set_aside_is_told_and_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    for (round, aside) in ["yours/fit.txt", "yours-2/fit.txt"].into_iter().enumerate() {
        fs::create_dir_all(&out).unwrap();
        fs::remove_file(out.join(".written-beside")).ok();
        fs::write(out.join("fit.txt"), format!("mine {round}")).unwrap();
        let shelf = Shelf::open(&Real, &out, folder.path()).unwrap();
        let files = [("fit.txt".to_owned(), b"sheet".to_vec())];
        shelf.put_beside(&files).unwrap();
        assert_eq!(shelf.set_aside(), [aside]);
        // A second time it is grainrow's own.
        shelf
            .put_beside(&[("fit.txt".to_owned(), b"other".to_vec())])
            .unwrap();
        assert_eq!(shelf.set_aside(), [aside]);
        assert_eq!(
            fs::read_to_string(out.join(aside)).unwrap(),
            format!("mine {round}")
        );
    }
}

#[test]
fn a_full_disk_leaves_the_old_plan_and_nothing_half_written() {
    for writes in 0.. {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("out");
        put(&out, &plan("old", &["B1"]));
        let full = Full::after(writes);
        let ended = replace(&full, (&out, &out), &plan("new", &["B2"]), Some("marks")).is_ok();
        assert!(!out.join(".coming-part").exists(), "write {writes}");
        settle(&Real, &out, &out).unwrap();
        let present = read(&out);
        if present != sorted(plan("new", &["B2"])) {
            assert_eq!(present, sorted(plan("old", &["B1"])), "write {writes}");
            assert!(!out.join("done.csv").exists(), "write {writes}");
        }
        if ended {
            assert!(writes > 5, "the disk was full only {writes} times");
            break;
        }
    }
}

#[test]
fn two_commands_at_once_do_not_meet() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    put(&out, &plan("old", &[]));
    let first = Shelf::open(&Real, &out, folder.path()).unwrap();
    let second = Shelf::open(&Real, &out, folder.path())
        .map(drop)
        .unwrap_err();
    assert!(matches!(second, Failure::Busy { .. }), "{second}");
    drop(first);
    Shelf::open(&Real, &out, folder.path()).map(drop).unwrap();
}

#[test]
fn going_back_does_without_a_drawing_that_was_thrown_away() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    put(&out, &plan("first", &["B1"]));
    put(&out, &plan("second", &[]));
    fs::remove_file(out.join("before/1/boards/B1.svg")).unwrap();
    let (number, files) = earlier(&out).unwrap();
    go_back(&Real, (&out, &out), number, &files, None).unwrap();
    assert_eq!(read(&out), sorted(plan("first", &[])));
}
