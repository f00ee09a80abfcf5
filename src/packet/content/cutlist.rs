//! The cutting list: every piece, rough and finished.

use crate::job::{Grain, Job};
use crate::packet::document::{Column, Part, Table};
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;
use crate::packet::table::{end_name, face_name};
use crate::plan::Plan;

/// The cutting list, in the order of the job's fronts.
pub fn part(job: &Job, plan: &Plan) -> Part {
    let mut part = Part::new("cutlist", "Cutting list");
    let mut pieces = PieceOf::all(job, plan);
    pieces.sort_by_key(|piece| (piece.blank.front, piece.blank.stave));
    part.text(
        "Rough sizes are along the grain × across it; finished sizes are width × height × \
         thickness as seen on the case. “Left at” is the end of the board that the front's left \
         side (its bottom, when the grain is vertical) faces.",
    );
    part.table(Table {
        caption: "Every piece".to_owned(),
        columns: vec![
            Column::words("piece"),
            Column::words("from board, section, strip"),
            Column::words("rough"),
            Column::words("finished"),
            Column::words("grain"),
            Column::words("run, place"),
            Column::figures("stretch"),
            Column::words("left at"),
            Column::words("face"),
        ],
        rows: pieces.iter().map(row).collect(),
        large: false,
    });
    part
}

fn row(piece: &PieceOf) -> Vec<Phrase> {
    let (blank, front) = (piece.blank, piece.front());
    let (run, place) = piece.job.place_of(blank.front);
    let run = &piece.job.runs[run];
    let grain = match front.grain {
        Grain::Horizontal => "horizontal",
        Grain::Vertical => "vertical",
    };
    vec![
        piece.name().into(),
        piece.place().into(),
        Phrase::default().sizes(&[blank.to - blank.from, blank.high - blank.low]),
        Phrase::default().sizes(&[front.width, front.height, front.thickness]),
        grain.into(),
        format!("{}, {} of {}", run.name, place + 1, run.fronts.len()).into(),
        blank.stretch.to_string().into(),
        end_name(blank.left).into(),
        face_name(blank.face).into(),
    ]
}
