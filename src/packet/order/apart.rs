//! What is flat is cut apart, and staves are glued.

use super::Phase;
use super::mill::to_flatten;
use crate::draw::board_name;
use crate::job::{Grain, Job};
use crate::measure::Length;
use crate::packet::joined::apart;
use crate::packet::phrase::Phrase;
use crate::packet::pieces::PieceOf;
use crate::packet::todo::Todo;
use crate::work::BoardWork;

/// Pieces that were left joined, into blanks.
pub fn cut_apart(job: &Job, works: &[BoardWork], todo: Todo) -> Phase {
    let joined = to_flatten(works, todo).filter(|(_, piece)| piece.is_cut_apart());
    let steps = joined.map(|(cut, piece)| {
        Phrase::from(format!("{}, ", board_name(job, cut))).and(apart(job, piece))
    });
    Phase {
        title: "Cut apart what was left joined".to_owned(),
        how: "Only now, flat and planed. Measured from the piece's own end, the one that lay \
              towards the hook end; mark it anew, the chalk is planed away."
            .into(),
        mind: "Mind: short pieces are held with a stop and a clamp, not by hand.".into(),
        steps: steps.collect(),
        ..Phase::default()
    }
}

/// Glued fronts, stave by stave.
pub fn glue(pieces: &[PieceOf]) -> Phase {
    let first = pieces
        .iter()
        .filter(|p| p.blank.stave == 1 && p.blank.staves > 1);
    let mut short: Vec<&str> = Vec::new();
    let mut steps = Vec::new();
    for first in first {
        let allowances = &first.job.settings.allowances;
        if first.blank.to - first.blank.from < allowances.shortest_safe {
            short.push(&first.front().name);
        }
        steps.push(glue_up(first, pieces));
    }
    let by_hand = match short.is_empty() {
        true => Phrase::default(),
        false => format!(
            "Mind: too short for the jointer, shoot their edges by hand: {}.",
            short.join(", ")
        )
        .into(),
    };
    Phase {
        title: "Joint and glue the staves".to_owned(),
        how: "Joint their edges, and glue them so that the triangle closes. Widths are those of \
              the rough staves. Let the glue dry as its maker says before planing on."
            .into(),
        mind: by_hand,
        steps,
        ..Phase::default()
    }
}

/// `right lower, left to right: stave 1 (O2) 199 wide, stave 2 (O5) 106 wide, 305 together`.
fn glue_up(first: &PieceOf, pieces: &[PieceOf]) -> Phrase {
    let mut staves: Vec<&PieceOf> = pieces
        .iter()
        .filter(|p| p.blank.front == first.blank.front)
        .collect();
    staves.sort_by_key(|p| p.blank.stave);
    let side = match first.front().grain {
        Grain::Horizontal => "top to bottom",
        Grain::Vertical => "left to right",
    };
    let wide = |p: &PieceOf| p.blank.high - p.blank.low;
    let each = staves.iter().map(|p| {
        let board = board_name(p.job, p.cut);
        Phrase::from(format!("stave {} ({board}) ", p.blank.stave))
            .length(wide(p))
            .words(" wide")
    });
    let all: Length = staves.iter().map(|p| wide(p)).sum();
    Phrase::from(format!("{}, {side}: ", first.front().name))
        .and(Phrase::join(each, ", "))
        .words(", ")
        .length(all)
        .words(" together")
}
