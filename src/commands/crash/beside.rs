//! Commands that write beside a plan: wishes kept, and what photographs tell.

use std::fs;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::{Step, Tree, calls_of, copied, is_whole, killed, one_file_killed, planned_job, tree};
use crate::commands::disk::Real;
use crate::commands::shelf::Shelf;
use crate::commands::{Accept, Asking, PhotoOrder, Picked, WishOrder, photo, wish};
use crate::layout::{Request, Silent, WarmStart};
use crate::photo::colour::to_byte;
use crate::photo::picture::jpeg_of;

/// Pixels an inch, and inches of ground around the board.
const SCALE: usize = 20;
const AROUND: usize = 3;

pub(super) fn wished(folder: &Path) -> WishOrder {
    keeping(folder, "low!=B3")
}

fn keeping(folder: &Path, text: &str) -> WishOrder {
    WishOrder {
        warm: WarmStart::default(),
        folder: folder.to_owned(),
        wishes: vec![text.to_owned()],
        what: Asking::Keep,
        request: Request::default(),
    }
}

/// A planned job with a wish kept already.
pub(super) fn wished_before() -> tempfile::TempDir {
    let base = planned_job();
    wish(&keeping(base.path(), "left!=B3"), &Silent).unwrap();
    base
}

/// Tones into boards.csv, and all that is told beside the plan.
pub(super) fn accepted(folder: &Path) -> PhotoOrder {
    PhotoOrder {
        accept: Some(Picked {
            what: Accept::Tones,
            boards: Vec::new(),
            numbers: Vec::new(),
            above: None,
        }),
        ..looked_at(folder)
    }
}

fn looked_at(folder: &Path) -> PhotoOrder {
    PhotoOrder {
        folder: folder.to_owned(),
        out: None,
        accept: None,
    }
}

/// A planned job that a board came to whose photograph was looked at once, and taken anew.
pub(super) fn photographed_before() -> tempfile::TempDir {
    let base = planned_job();
    let boards = base.path().join("boards.csv");
    let more = fs::read_to_string(&boards).unwrap() + "B4,30,5,5/4,photo\n";
    fs::write(boards, more).unwrap();
    fs::create_dir(base.path().join("photos")).unwrap();
    let picture = base.path().join("photos/B4.jpg");
    fs::write(&picture, board([0.26, 0.17, 0.10])).unwrap();
    photo(&looked_at(base.path()), &|_, _| {}).unwrap();
    fs::write(&picture, board([0.38, 0.25, 0.15])).unwrap();
    base
}

/// A picture of a board 30 by 5 in on dark ground, white paper along both edges.
fn board(wood: [f32; 3]) -> Vec<u8> {
    let (width, height) = ((30 + 2 * AROUND) * SCALE, (5 + 2 * AROUND) * SCALE);
    let bytes = (0..width * height).flat_map(|at| {
        let inches = |pixel: usize| (pixel as f64 + 0.5) / SCALE as f64 - AROUND as f64;
        let (x, y) = (inches(at % width), inches(at / width));
        let seen = match y {
            _ if (0.0..30.0).contains(&x) && (0.0..5.0).contains(&y) => wood,
            -2.0..-0.5 | 5.5..7.0 => [0.85; 3],
            _ => [0.07; 3],
        };
        seen.map(to_byte)
    });
    jpeg_of(width, height, &bytes.collect::<Vec<u8>>())
}

#[test]
fn a_wish_killed_at_any_call_leaves_the_file_as_it_was_or_as_it_should_be() {
    one_file_killed(Step::Wish, "wishes.csv");
}

/// What photographs told, in the output folder.
fn told(all: &Tree) -> Tree {
    // What a kill leaves half written beside is nothing told.
    let of_photos =
        |name: &Path| name.starts_with("out/photos") || name == Path::new("out/photos.json");
    let files = all.iter().filter(|(name, _)| of_photos(name));
    files
        .map(|(name, bytes)| (name.clone(), bytes.clone()))
        .collect()
}

#[test]
fn photographs_killed_at_any_call_leave_all_that_was_told_or_all_that_will_be() {
    let base = Step::Photo.base();
    let before = tree(base.path());
    let after = {
        let copy = copied(base.path());
        Step::Photo.run(&Real, copy.path());
        tree(copy.path())
    };
    let (file, backup) = (PathBuf::from("boards.csv"), PathBuf::from("boards.csv.bak"));
    assert_ne!(before[&file], after[&file]);
    let changed = told(&before)
        .iter()
        .filter(|(name, bytes)| after[*name] != **bytes)
        .count();
    assert!(changed > 1, "{changed} files of what is told change");
    let calls = calls_of(Step::Photo, base.path());
    assert!(calls > 12, "{calls} calls");
    (0..calls).into_par_iter().for_each(|at| {
        let copy = copied(base.path());
        let folder = copy.path();
        killed(Step::Photo, folder, at);
        drop(Shelf::open(&Real, &folder.join("out"), folder).unwrap());
        is_whole(folder, "out");
        let now = tree(folder);
        let new = told(&now) == told(&after);
        assert!(new || told(&now) == told(&before), "killed at call {at}");
        if now[&file] == after[&file] {
            assert_eq!(now[&backup], before[&file], "killed at call {at}");
        } else {
            assert!(!new, "killed at call {at}");
            assert_eq!(now[&file], before[&file], "killed at call {at}");
        }
        // Looked at again, nothing is missing and nothing is left over.
        Step::Photo.run(&Real, folder);
        assert_eq!(told(&tree(folder)), told(&after), "killed at call {at}");
    });
}
