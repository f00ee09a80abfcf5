//! The order of work: all boards together, grouped so that saws and planer are set seldom.
//!
//! What is cut when, and what stays joined until it is flat, is [`work`](crate::work)'s to say.
//! What can be chosen freely is how the cuts are grouped: cuts that share a setting are made
//! together (see [`settings`]).

mod apart;
mod finish;
mod mill;
mod saw;
pub mod settings;

use super::document::{Block, Part};
use super::faces::faces;
use super::phrase::Phrase;
use super::pieces::PieceOf;
use super::todo::Todo;
use crate::draw::{Progress, board_name};
use crate::job::Job;
use crate::plan::Plan;
use crate::work::BoardWork;

/// One phase of the work: a machine, and what is done on it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Phase {
    /// What is done.
    pub title: String,
    /// How, in a sentence or two.
    pub how: Phrase,
    /// What to mind, in a sentence; nothing when empty. More stands among the cautions.
    pub mind: Phrase,
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
    let boards = plan.boards.iter();
    let works: Vec<BoardWork> = boards.map(|cut| todo.work(job, cut)).collect();
    let mut pieces = PieceOf::all(job, plan);
    pieces.retain(|piece| todo.front(piece.blank));
    let phases = [
        mark_the_face(job, plan, todo),
        saw::crosscut(job, plan, &works),
        saw::straighten(job, &works),
        saw::rip(job, &works),
        saw::part(job, &works),
        saw::narrow(job, &works),
        mill::flatten(job, &works, todo),
        mill::plane(job, &works, todo),
        apart::cut_apart(job, &works, todo),
        apart::glue(&pieces),
        mill::plane_glued(&pieces),
        finish::rip(&pieces),
        finish::crosscut(&pieces),
        finish::shape(&pieces),
    ];
    phases
        .into_iter()
        .filter(|phase| !phase.steps.is_empty())
        .collect()
}

/// Before anything is cut: which side shows.
fn mark_the_face(job: &Job, plan: &Plan, todo: Todo) -> Phase {
    let steps = plan.boards.iter().filter_map(|cut| {
        let start = format!("{}: ", board_name(job, cut));
        Some(Phrase::from(start).and(faces(job, cut, todo)?))
    });
    Phase {
        title: "Mark the face, then chalk".to_owned(),
        how:
            "Before anything is cut, mark the side that shows. Then chalk every mark, front name, \
              left end, top arrow and triangle; renew them whenever a pass takes them off."
                .into(),
        steps: steps.collect(),
        ..Phase::default()
    }
}

/// The order of work as a part of the packet.
pub fn part(job: &Job, plan: &Plan, progress: Option<&Progress>) -> Part {
    let mut part = Part {
        columns: 3,
        ..Part::new("order", "Order of work")
    };
    part.text("All boards together, machine by machine, from the first phase to the last.");
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
        if phase.mind != Phrase::default() {
            part.text(phase.mind);
        }
        part.blocks.push(Block::Steps(phase.steps));
    }
    part
}

#[cfg(test)]
mod tests;
