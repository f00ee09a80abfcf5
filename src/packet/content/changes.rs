//! The first sheet of a plan that replaces another: what becomes of each front.

use super::{Extras, Replaces};
use crate::draw::{Progress, board_name};
use crate::job::Job;
use crate::packet::document::{Column, Part, Table};
use crate::packet::phrase::Phrase;
use crate::packet::todo::Todo;
use crate::plan::{BoardPlan, Plan, SawnPiece};
use crate::recut::{Change, Kind};

/// What stays, what moves, what is made anew and what is lost; nothing where no plan was replaced.
pub fn part(job: &Job, plan: &Plan, extras: &Extras) -> Option<Part> {
    let replaces = extras.replaces.as_ref()?;
    let mut part = Part::new("changes", "What changes");
    part.text(format!(
        "Plan {} is in force from now on: throw away the sheets of plan {}.",
        replaces.number + 1,
        replaces.number
    ));
    part.heading("Front by front");
    part.table(fronts(replaces));
    if let Some(progress) = &extras.progress {
        part.table(lost(job, plan, progress));
        let done = done(job, plan, progress);
        if !done.is_empty() {
            part.text(format!(
                "No sheet here, for nothing is left to cut on them: {}.",
                done.join(", ")
            ));
        }
    }
    Some(part)
}

/// `Plan 2, replaces plan 1`: what every sheet bears.
pub fn name(replaces: &Replaces) -> String {
    let number = replaces.number;
    format!("Plan {}, replaces plan {number}", number + 1)
}

fn fronts(replaces: &Replaces) -> Table {
    Table {
        caption: "What becomes of each front".to_owned(),
        columns: ["", "front", "now", "was", "is", "why"]
            .map(Column::words)
            .to_vec(),
        rows: replaces.changes.iter().map(row).collect(),
        ..Table::default()
    }
}

fn row(change: &Change) -> Vec<Phrase> {
    let (sign, word) = match change.kind {
        Kind::Made => ("✓", "made"),
        Kind::Cut => ("✓", "cut"),
        Kind::Stays => ("", "stays where it is chalked"),
        Kind::Moved => ("→", "moves"),
        Kind::New if change.was.is_some() => ("→", "made anew"),
        Kind::New => ("→", "new"),
        Kind::NotMade => ("✗", "not made"),
    };
    let told = |text: &Option<String>| Phrase::from(text.clone().unwrap_or_default());
    vec![
        sign.into(),
        change.front.as_str().into(),
        word.into(),
        told(&change.was),
        told(&change.now),
        told(&change.why),
    ]
}

/// The pieces that were cut and are lost.
fn lost(job: &Job, plan: &Plan, progress: &Progress) -> Table {
    let pieces = progress.sawn.pieces.iter().filter(|piece| !piece.stands());
    let row = |piece: &SawnPiece| {
        let blank = &piece.blank;
        let cut = |cut: &&BoardPlan| (cut.board, cut.copy) == (piece.board, piece.copy);
        let board = match plan.boards.iter().find(cut) {
            Some(cut) => board_name(job, cut),
            None => job.boards[piece.board].id.clone(),
        };
        vec![
            Phrase::from("✗"),
            job.fronts[blank.front].name.as_str().into(),
            format!("lost, from {board}").into(),
            Phrase::default()
                .length(blank.from)
                .words(" to ")
                .length(blank.to),
        ]
    };
    Table {
        caption: "Pieces that are lost".to_owned(),
        columns: ["", "front", "piece", "from the hook end"]
            .map(Column::words)
            .to_vec(),
        rows: pieces.map(row).collect(),
        ..Table::default()
    }
}

/// The boards on which nothing is left to cut.
fn done(job: &Job, plan: &Plan, progress: &Progress) -> Vec<String> {
    let todo = Todo::after(Some(progress));
    let boards = plan.boards.iter().filter(|cut| !is_open(cut, todo));
    boards.map(|cut| board_name(job, cut)).collect()
}

/// Whether a piece of a board is still to be cut.
pub fn is_open(cut: &BoardPlan, todo: Todo) -> bool {
    let strips = cut.sections.iter().flat_map(|section| &section.strips);
    let mut blanks = strips.flat_map(|strip| &strip.blanks);
    !todo.is_begun() || blanks.any(|blank| todo.piece(blank))
}
