//! What happened in the shop, written into a job's files as the maker would.
//!
//! Each function takes a file's text and gives the changed text; whether what it says is true of
//! the job is for the readers to judge, with the fault at its place.

mod keys;
mod photos;
mod style;
mod tables;
mod wishes;

pub use keys::set_key;
pub use photos::{CornersMark, mark_corners, mark_tone};
pub use style::NumberStyle;
pub use tables::{columns_of, edit_table};
pub use wishes::mark_wishes;

use super::read::{defects, done};
use super::table::TableEdit;
use super::{Choice, DefectKind, DefectSide, Finished};
use crate::measure::Unit;

/// Writes that a front is cut or made, or with `None` that its blank is spoiled.
///
/// A row that tells of an earlier step of the same blank is changed; a spoiled one stays for the
/// record. Notes are kept unless there are new ones.
pub fn mark_front(text: &str, front: &str, now: Option<Finished>, notes: &str) -> String {
    let mut edit = TableEdit::new(text, done::COLUMNS, &["front", "state", "notes"]);
    let state = match now {
        Some(Finished::Cut) => "cut",
        Some(Finished::Made) => "made",
        None => "spoiled",
    };
    let of_front = |row: &usize| edit.cell(*row, "front") == front;
    // What was put aside is no earlier step of this blank.
    let start = last_anew(&edit).map_or(0, |row| row + 1);
    let last = (start..edit.rows()).rev().find(of_front);
    let open = last.filter(|&row| !edit.cell(row, "state").eq_ignore_ascii_case("spoiled"));
    match open {
        Some(row) => {
            edit.set(row, "state", state);
            if !notes.is_empty() {
                edit.set(row, "notes", notes);
            }
        }
        None => edit.append(&[
            ("front", front.to_owned()),
            ("state", state.to_owned()),
            ("notes", notes.to_owned()),
        ]),
    }
    edit.into_text()
}

/// Writes that all is planned anew: the rows above are put aside, and stay for the record.
pub fn mark_anew(text: &str, notes: &str) -> String {
    let mut edit = TableEdit::new(text, done::COLUMNS, &["front", "state", "notes"]);
    edit.append(&[
        ("state", done::ANEW.to_owned()),
        ("notes", notes.to_owned()),
    ]);
    edit.into_text()
}

/// Takes back the last [`mark_anew`]: the rows above count again.
pub fn unmark_anew(text: &str) -> String {
    let mut edit = TableEdit::new(text, done::COLUMNS, &["front", "state", "notes"]);
    if let Some(row) = last_anew(&edit) {
        edit.remove(row);
    }
    edit.into_text()
}

fn last_anew(edit: &TableEdit) -> Option<usize> {
    let is_anew = |row: &usize| edit.cell(*row, "state").eq_ignore_ascii_case(done::ANEW);
    (0..edit.rows()).rev().find(is_anew)
}

/// Writes that a board was cut through at a distance from its hook end, as the maker typed it.
pub fn mark_crosscut(
    text: &str,
    board: &str,
    copy: Option<u32>,
    at: &str,
    unit: Unit,
    notes: &str,
) -> String {
    let mut edit = TableEdit::new(text, done::COLUMNS, &["front", "state", "notes"]);
    let style = NumberStyle::of(&edit, &["at"]);
    edit.append(&[
        ("state", "crosscut".to_owned()),
        ("board", board.to_owned()),
        (
            "copy",
            copy.map(|copy| copy.to_string()).unwrap_or_default(),
        ),
        ("at", style.write(at, unit)),
        ("notes", notes.to_owned()),
    ]);
    edit.into_text()
}

/// A defect as typed: its edges are lengths in the job's unit.
#[derive(Clone, Debug)]
pub struct DefectMark {
    /// The board it is on.
    pub board: String,
    /// The copy it is on; every copy when not given.
    pub copy: Option<u32>,
    /// What it is.
    pub kind: DefectKind,
    /// From and to along the board, low and high across it.
    pub edges: [String; 4],
    /// Which face shows it.
    pub side: DefectSide,
    /// Whatever the maker says of it.
    pub notes: String,
}

/// Writes a defect into the text of `defects.csv`.
pub fn mark_defect(text: &str, mark: &DefectMark, unit: Unit) -> String {
    const EDGES: [&str; 4] = ["from", "to", "low", "high"];
    let header = ["board", "kind", "from", "to", "low", "high", "notes"];
    let mut edit = TableEdit::new(text, defects::COLUMNS, &header);
    let style = NumberStyle::of(&edit, &EDGES);
    let mut cells = vec![
        ("board", mark.board.clone()),
        ("kind", mark.kind.word().to_owned()),
        (
            "copy",
            mark.copy.map(|copy| copy.to_string()).unwrap_or_default(),
        ),
        ("notes", mark.notes.clone()),
    ];
    let written = mark.edges.iter().map(|edge| style.write(edge, unit));
    cells.extend(EDGES.into_iter().zip(written));
    if mark.side != DefectSide::Both {
        cells.push(("side", mark.side.word().to_owned()));
    }
    edit.append(&cells);
    edit.into_text()
}

#[cfg(test)]
mod tests;
