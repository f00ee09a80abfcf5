//! `photos.csv`: which picture shows which board; without it, pictures named after boards.

use std::path::{Component, Path};

use super::photo_trouble::PhotoTrouble;
use crate::job::fault::{Fault, Faults, Place, Source, nearest};
use crate::job::table::{Columns, Line, Table};
use crate::job::{Board, Photo, PhotoSide, Settings};
use crate::measure::Length;

/// The columns of `photos.csv`.
pub(in crate::job) const COLUMNS: Columns = Columns {
    required: &["photo", "board"],
    optional: &[
        "copy",
        "side",
        "from",
        "to",
        "hook_near",
        "far_near",
        "far_far",
        "hook_far",
        "white",
        "notes",
    ],
};

/// The corners, in the order they go round.
pub(in crate::job) const CORNERS: [&str; 4] = ["hook_near", "far_near", "far_far", "hook_far"];

/// The folder whose pictures are taken by their names.
pub(in crate::job) const FOLDER: &str = "photos";

/// Reads all rows; faults are added to `faults`.
pub(super) fn read(
    table: &Table,
    boards: &[Board],
    settings: &Settings,
    faults: &mut Faults,
) -> Vec<Photo> {
    let rows = table.lines().enumerate();
    rows.filter_map(|(row, line)| photo(line, row, boards, settings, faults))
        .collect()
}

fn photo(
    line: Line<'_>,
    row: usize,
    boards: &[Board],
    settings: &Settings,
    faults: &mut Faults,
) -> Option<Photo> {
    let file = line.need("photo", faults, |cell| {
        inside(cell.text()).ok_or_else(|| cell.fault(PhotoTrouble::Outside))
    });
    let board = board(line, boards, faults);
    let copy = line.get("copy", faults, |cell| cell.whole(1..=10_000));
    let side = line.get("side", faults, |cell| cell.choice::<PhotoSide>());
    let from = line.get("from", faults, |cell| cell.distance());
    let to = line.get("to", faults, |cell| cell.size());
    let corners = corners(line, faults);
    let white = line.get("white", faults, |cell| cell.numbers::<4>());
    let board = board?;
    let copy = which_copy(line, board, boards, copy, faults);
    let (from, to) = (from.unwrap_or_default(), to.unwrap_or(board.length));
    check_part(line, board, (from, to), settings, faults);
    Some(Photo {
        file: file?,
        board: board.id.clone(),
        copy: copy?,
        side: side.unwrap_or_default(),
        from,
        to,
        corners: corners?,
        white,
        place: line.place("photo"),
        row: Some(row),
    })
}

/// A path that stays inside the job's folder, its parts divided by `/`.
fn inside(text: &str) -> Option<String> {
    // A path of another system is no name of a file here, and must not be one there.
    let path = text.replace('\\', "/");
    let parts: Option<Vec<&str>> = Path::new(&path)
        .components()
        .filter(|part| *part != Component::CurDir)
        .map(|part| match part {
            Component::Normal(name) => name.to_str().filter(|name| !name.contains(':')),
            _ => None,
        })
        .collect();
    parts
        .filter(|parts| !parts.is_empty())
        .map(|parts| parts.join("/"))
}

fn board<'b>(line: Line<'_>, boards: &'b [Board], faults: &mut Faults) -> Option<&'b Board> {
    let id = line.need("board", faults, |cell| cell.name())?;
    let found = boards.iter().find(|board| board.id == id);
    if found.is_none() {
        let nearest = nearest(&id, boards.iter().map(|board| board.id.as_str()));
        faults.push(Fault::new(
            line.place("board"),
            PhotoTrouble::UnknownBoard { nearest },
        ));
    }
    found
}

/// The copy that is shown: named, or the only one there is.
fn which_copy(
    line: Line<'_>,
    board: &Board,
    boards: &[Board],
    named: Option<i64>,
    faults: &mut Faults,
) -> Option<u32> {
    let kinds = boards.iter().filter(|kind| kind.id == board.id);
    let copies: Vec<u32> = kinds.flat_map(|kind| kind.copies.iter().copied()).collect();
    let trouble = match named.map(u32::try_from) {
        Some(Ok(copy)) if copies.contains(&copy) => return Some(copy),
        Some(_) => PhotoTrouble::UnknownCopy {
            copies: copies.len(),
        },
        // A copy that can't be read has been told.
        None if !line.text("copy").is_empty() => return None,
        None if copies.len() == 1 => return copies.first().copied(),
        None => PhotoTrouble::WhichCopy {
            board: board.id.clone(),
            copies: copies.len(),
        },
    };
    faults.push(Fault::new(line.place("copy"), trouble));
    None
}

fn check_part(
    line: Line<'_>,
    board: &Board,
    (from, to): (Length, Length),
    settings: &Settings,
    faults: &mut Faults,
) {
    if to > board.length || from >= board.length {
        let column = if to > board.length { "to" } else { "from" };
        let long = settings.ruler().show_with_unit(board.length);
        let trouble = PhotoTrouble::OffBoard {
            board: board.id.clone(),
            long,
        };
        faults.push(Fault::new(line.place(column), trouble));
    } else if to <= from {
        faults.push(Fault::new(line.place("to"), PhotoTrouble::Backwards));
    }
}

/// All four corners, or none; nothing when they are faulty.
fn corners(line: Line<'_>, faults: &mut Faults) -> Option<Option<[[f64; 2]; 4]>> {
    let given: Vec<&'static str> = CORNERS
        .into_iter()
        .filter(|column| !line.text(column).is_empty())
        .collect();
    if given.is_empty() {
        return Some(None);
    }
    let read = CORNERS.map(|column| line.get(column, faults, |cell| cell.numbers::<2>()));
    if let Some(missing) = CORNERS.into_iter().find(|column| !given.contains(column)) {
        faults.push(Fault::new(
            line.place(missing),
            PhotoTrouble::FewCorners { missing },
        ));
        return None;
    }
    let [a, b, c, d] = read;
    let corners = [a?, b?, c?, d?];
    if !go_round(&corners) {
        faults.push(Fault::new(
            line.place(CORNERS[0]),
            PhotoTrouble::NoRectangle,
        ));
        return None;
    }
    Some(Some(corners))
}

/// Whether corners make a shape without a dent or a fold.
fn go_round(corners: &[[f64; 2]; 4]) -> bool {
    let turn = |at: usize| {
        let [a, b, c] = [0, 1, 2].map(|step| corners[(at + step) % 4]);
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    };
    let turns = [0, 1, 2, 3].map(turn);
    turns.iter().all(|turn| *turn > 1.0) || turns.iter().all(|turn| *turn < -1.0)
}

/// Pictures named after boards: `C7.jpg`, and `C7-2.jpg` its second.
pub(super) fn by_name(pictures: &[String], boards: &[Board]) -> Vec<Photo> {
    pictures
        .iter()
        .filter_map(|picture| {
            let (stem, _) = picture.rsplit_once('.')?;
            let named = |name: &str| boards.iter().find(|board| board.id == name);
            let numbered = || {
                let (name, number) = stem.rsplit_once('-')?;
                let is_number = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
                is_number.then(|| named(name)).flatten()
            };
            let board = named(stem).or_else(numbered)?;
            let file = format!("{FOLDER}/{picture}");
            Some(Photo {
                place: Place::file_of(&Source::new(file.clone(), "")),
                file,
                board: board.id.clone(),
                copy: *board.copies.first()?,
                side: PhotoSide::Up,
                from: Length::ZERO,
                to: board.length,
                corners: None,
                white: None,
                row: None,
            })
        })
        .collect()
}
