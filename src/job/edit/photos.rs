//! What photographs told and the maker accepted, written into the job's files.

use crate::job::read::{boards, photos};
use crate::job::table::TableEdit;
use crate::job::{Choice, Photo, PhotoSide};

/// Corners of a photograph that the maker accepts, in pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct CornersMark {
    /// Which photograph, by its place among all.
    pub photo: usize,
    /// Its corners.
    pub corners: [[f64; 2]; 4],
}

/// Writes corners into the text of `photos.csv`. Where there is no such file yet, all photographs
/// get a row: pictures are no longer taken by their names once it is there.
pub fn mark_corners(text: &str, all: &[Photo], marks: &[CornersMark]) -> String {
    let header = [
        "photo",
        "board",
        "hook_near",
        "far_near",
        "far_far",
        "hook_far",
    ];
    let mut edit = TableEdit::new(text, photos::COLUMNS, &header);
    for (at, photo) in all.iter().enumerate() {
        let row = photo.row.unwrap_or_else(|| append(&mut edit, photo));
        let Some(mark) = marks.iter().find(|mark| mark.photo == at) else {
            continue;
        };
        for (column, [x, y]) in photos::CORNERS.into_iter().zip(mark.corners) {
            edit.set(row, column, &format!("{x:.1} {y:.1}"));
        }
    }
    edit.into_text()
}

/// Adds a photograph's row and says where it stands.
fn append(edit: &mut TableEdit, photo: &Photo) -> usize {
    let row = edit.rows();
    let side = PhotoSide::WORDS
        .iter()
        .find(|(_, side)| *side == photo.side);
    let written = side
        .filter(|_| photo.side != PhotoSide::Up)
        .map_or("", |(word, _)| word);
    edit.append(&[
        ("photo", photo.file.clone()),
        ("board", photo.board.clone()),
        ("side", written.to_owned()),
    ]);
    row
}

/// Writes a tone that a photograph told over the word `photo` of a board's row; the note after it
/// stays.
pub fn mark_tone(text: &str, board: &str, tone: f64) -> String {
    let mut edit = TableEdit::new(text, boards::COLUMNS, &["board", "tone"]);
    let row = (0..edit.rows()).find(|&row| edit.cell(row, "board") == board);
    if let Some(row) = row {
        let cell = edit.cell(row, "tone");
        let note = cell
            .split_once(';')
            .map(|(_, note)| format!("; {}", note.trim()));
        edit.set(row, "tone", &format!("{tone}{}", note.unwrap_or_default()));
    }
    edit.into_text()
}
