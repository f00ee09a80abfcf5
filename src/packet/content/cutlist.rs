//! The cutting list: every piece, rough and finished.

use std::collections::BTreeMap;

use super::same::said_once;
use crate::draw::{Progress, Status, board_name};
use crate::job::{Grain, Job, Run};
use crate::packet::document::{Column, Part, Table};
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;
use crate::packet::table::{end_name, face_name};
use crate::packet::todo::Todo;
use crate::plan::Plan;

/// Which boards make which run, and every piece in the order of the job's fronts.
pub fn part(job: &Job, plan: &Plan, progress: Option<&Progress>) -> Part {
    let todo = Todo::after(progress);
    let mut part = Part::new("cutlist", "Cutting list");
    let mut pieces = PieceOf::all(job, plan);
    pieces.sort_by_key(|piece| (piece.blank.front, piece.blank.stave));
    let (table, same) = said_once(every_piece(&pieces, todo));
    let mut words = Phrase::from(
        "Rough is along × across the grain; finished is width × height × thickness on the case, of a \
         stave that of its front. “Left at”: the board's end that the front's left (bottom, if the \
         grain is vertical) faces.",
    );
    if let Some(same) = same {
        words = words
            .words(" The same for all pieces: ")
            .and(same)
            .words(".");
    }
    part.text(words);
    part.table(table);
    if job.runs.len() > 1 {
        part.heading("Which boards make which run");
        part.table(runs(job, &pieces));
    }
    part
}

fn every_piece(pieces: &[PieceOf], todo: Todo) -> Table {
    let mut columns = vec![
        Column::words("piece"),
        Column::words("from board, section, strip"),
        Column::words("rough"),
        Column::words("finished"),
        Column::words("grain"),
        Column::words("run, place"),
        Column::figures("stretch"),
        Column::words("left at"),
        Column::words("face"),
    ];
    if todo.is_begun() {
        columns.push(Column::words("now"));
    }
    Table {
        caption: "Every piece".to_owned(),
        columns,
        rows: pieces.iter().map(|piece| row(piece, todo)).collect(),
        ..Table::default()
    }
}

fn row(piece: &PieceOf, todo: Todo) -> Vec<Phrase> {
    let (blank, front) = (piece.blank, piece.front());
    let (run, place) = piece.job.place_of(blank.front);
    let run = &piece.job.runs[run];
    let grain = match front.grain {
        Grain::Horizontal => "horizontal",
        Grain::Vertical => "vertical",
    };
    let mut cells = vec![
        piece.name().into(),
        piece.place().into(),
        Phrase::default().sizes(&[blank.to - blank.from, blank.high - blank.low]),
        finished(piece),
        grain.into(),
        format!("{}, {} of {}", run.name, place + 1, run.fronts.len()).into(),
        blank.stretch.to_string().into(),
        end_name(blank.left).into(),
        face_name(blank.face).into(),
    ];
    if todo.is_begun() {
        let now = todo.status(blank).map_or("", Status::word);
        cells.push(now.into());
    }
    cells
}

fn finished(piece: &PieceOf) -> Phrase {
    let front = piece.front();
    let glued = if piece.blank.staves > 1 {
        "glued: "
    } else {
        ""
    };
    Phrase::from(glued).finished_sizes(&[front.width, front.height, front.thickness])
}

/// Which boards make which run.
fn runs(job: &Job, pieces: &[PieceOf]) -> Table {
    Table {
        caption: "Runs and their boards".to_owned(),
        columns: ["run", "fronts in order", "boards, stretch by stretch"]
            .map(Column::words)
            .to_vec(),
        rows: job
            .runs
            .iter()
            .map(|run| run_row(job, run, pieces))
            .collect(),
        ..Table::default()
    }
}

fn run_row(job: &Job, run: &Run, pieces: &[PieceOf]) -> Vec<Phrase> {
    let names: Vec<&str> = run
        .fronts
        .iter()
        .map(|&front| job.fronts[front].name.as_str())
        .collect();
    let mut stretches: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    for piece in pieces
        .iter()
        .filter(|p| run.fronts.contains(&p.blank.front))
    {
        let boards = stretches.entry(piece.blank.stretch).or_default();
        let name = board_name(job, piece.cut);
        if !boards.contains(&name) {
            boards.push(name);
        }
    }
    let boards: Vec<String> = stretches.values().map(|b| b.join(" + ")).collect();
    vec![
        Phrase::from(run.name.as_str()),
        names.join(", ").into(),
        boards.join(" / ").into(),
    ]
}
