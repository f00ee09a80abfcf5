//! The tables of a job by their files' names, to be changed cell by cell.

use crate::job::read::{boards, defects, done, fronts, openings, photos, wishes};
use crate::job::table::{Columns, TableEdit};
use crate::job::{
    BOARDS_CSV, DEFECTS_CSV, DONE_CSV, FRONTS_CSV, OPENINGS_CSV, PHOTOS_CSV, WISHES_CSV,
};

/// The columns a table of a job may have, and those a new one begins with; nothing for a file that
/// is no table.
fn table(file: &str) -> Option<(Columns, &'static [&'static str])> {
    Some(match file {
        BOARDS_CSV => (
            boards::COLUMNS,
            &["board", "length", "width", "thickness", "tone", "notes"],
        ),
        FRONTS_CSV => (
            fronts::COLUMNS,
            &["front", "width", "height", "thickness", "run", "notes"],
        ),
        DEFECTS_CSV => (
            defects::COLUMNS,
            &["board", "kind", "from", "to", "low", "high", "notes"],
        ),
        OPENINGS_CSV => (
            openings::COLUMNS,
            &["front", "left", "right", "top", "bottom"],
        ),
        PHOTOS_CSV => (photos::COLUMNS, &["photo", "board", "notes"]),
        WISHES_CSV => (wishes::COLUMNS, &["wish", "notes"]),
        DONE_CSV => (done::COLUMNS, &["front", "state", "notes"]),
        _ => return None,
    })
}

/// The columns of the table in a job's file of that name.
pub fn columns_of(file: &str) -> Option<Columns> {
    table(file).map(|(columns, _)| columns)
}

/// Begins to change the table in a job's file of that name; an empty one gets a header.
pub fn edit_table(file: &str, text: &str) -> Option<TableEdit> {
    table(file).map(|(columns, header)| TableEdit::new(text, columns, header))
}
