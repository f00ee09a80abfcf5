//! The order of work: all boards together, grouped so that saws and planer are set seldom.
//!
//! Sections, strips and pieces follow the chalk; what can be chosen freely is how the cuts are
//! grouped. Cuts that share a setting are made together, and where a piece may be a little
//! larger than it needs to be, the fewest settings that serve all are computed (see
//! [`settings`]).

mod mill;
mod saw;
pub mod settings;

use super::document::{Block, Part};
use super::phrase::Phrase;
use super::pieces::PieceOf;
use super::todo::Todo;
use crate::draw::Progress;
use crate::job::Job;
use crate::plan::Plan;

/// One phase of the work: a machine, and what is done on it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Phase {
    /// What is done.
    pub title: String,
    /// How, in a sentence or two.
    pub how: Phrase,
    /// What to mind, in a sentence; nothing when empty. More stands among the cautions.
    pub mind: &'static str,
    /// How many settings of the machine it takes, and what is set.
    pub settings: Option<(usize, &'static str)>,
    /// What to do, a step a setting or a board.
    pub steps: Vec<Phrase>,
}

/// The phases of a plan's work, in order; those with nothing to do are left out, and so is what
/// `progress` tells to be done.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn phases(job: &Job, plan: &Plan, progress: Option<&Progress>) -> Vec<Phase> {
    let todo = Todo::after(progress);
    let mut pieces = PieceOf::all(job, plan);
    let uncut: Vec<PieceOf> = pieces
        .iter()
        .copied()
        .filter(|p| todo.piece(p.blank))
        .collect();
    pieces.retain(|piece| todo.front(piece.blank));
    let phases = [
        saw::crosscut(job, plan, todo),
        saw::rip_rough(job, plan, todo),
        saw::part(&uncut),
        mill::flatten(job, plan, todo),
        mill::glue(&pieces),
        mill::plane(&pieces),
        saw::rip_finished(&pieces),
        saw::crosscut_finished(&pieces),
        mill::shape(&pieces),
    ];
    phases
        .into_iter()
        .filter(|phase| !phase.steps.is_empty())
        .collect()
}

/// The order of work as a part of the packet.
pub fn part(job: &Job, plan: &Plan, progress: Option<&Progress>) -> Part {
    let mut part = Part {
        columns: 2,
        ..Part::new("order", "Order of work")
    };
    part.text(
        "All boards together, machine by machine. Chalk front names, left ends, top arrows and \
         triangles before the first cut, and renew them after every pass.",
    );
    if Todo::after(progress).is_begun() {
        part.text("What is cut or made already is left out.");
    }
    for (i, phase) in phases(job, plan, progress).into_iter().enumerate() {
        let count = match phase.settings {
            Some((1, what)) => format!(" (1 {what} setting)"),
            Some((n, what)) => format!(" ({n} {what} settings)"),
            None => String::new(),
        };
        part.heading(format!("{}. {}{count}", i + 1, phase.title));
        part.text(phase.how);
        if !phase.mind.is_empty() {
            part.text(phase.mind);
        }
        part.blocks.push(Block::Steps(phase.steps));
    }
    part
}

#[cfg(test)]
mod tests;
