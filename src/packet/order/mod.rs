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

use super::document::Part;
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
    /// How many settings of the machine it takes.
    pub settings: Option<usize>,
    /// What to do, a step a setting or a board.
    pub steps: Vec<Phrase>,
    /// The boards whose own sheets print these steps; none where they stand nowhere else.
    pub on_sheets: Vec<String>,
    /// Whether they are told here all the same, because boards share settings.
    pub shared: bool,
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
    // Boards of which the same is to be said share a step.
    let mut sides: Vec<(Phrase, Vec<String>)> = Vec::new();
    for cut in &plan.boards {
        let Some(side) = faces(job, cut, todo) else {
            continue;
        };
        let board = board_name(job, cut);
        match sides.iter_mut().find(|(other, _)| *other == side) {
            Some((_, boards)) => boards.push(board),
            None => sides.push((side, vec![board])),
        }
    }
    let steps = sides
        .iter()
        .map(|(side, boards)| Phrase::from(format!("{}: ", boards.join(", "))).and(side.clone()));
    Phase {
        title: "Mark the face, then chalk".to_owned(),
        how:
            "Before anything is cut, mark the side that shows, then chalk every mark, front name, left end, \
              top arrow and triangle; renew what a pass takes off."
                .into(),
        steps: steps.collect(),
        on_sheets: sides.iter().flat_map(|(_, boards)| boards.clone()).collect(),
        shared: true,
        ..Phase::default()
    }
}

/// Of one board all is said on its sheet: what is done there by the saw, as one phase.
fn as_its_sheet_says(job: &Job, phases: Vec<Phase>) -> Vec<Phase> {
    let mut boards: Vec<&String> = phases.iter().flat_map(|phase| &phase.on_sheets).collect();
    boards.dedup();
    let [board] = boards[..] else {
        return phases;
    };
    let minds = phases.iter().filter(|phase| !phase.on_sheets.is_empty());
    let minds = minds.map(|phase| phase.mind.clone());
    let mut steps = phases.iter().flat_map(|phase| &phase.steps);
    let is_turned = steps.any(|step| step.show(job.settings.ruler()).contains(" with waste"));
    let turned = match is_turned {
        true => {
            " “With waste” is ripped with what lies beside it; “turned” then runs with its other edge \
             along the fence."
        }
        false => "",
    };
    let saw = Phase {
        title: format!("Saw {board} as its sheet says"),
        how: Phrase::from(
            "Renew what chalk a pass takes off. Cut on the waste side of each line: between two lines \
             the blade has its own width. The first edge is cut with a straightedge, a track or a sled: a raw edge never \
             runs along the fence. What would be shorter than ",
        )
        .with_unit(job.settings.allowances.shortest_safe)
        .words(" stays joined, or keeps its waste, until it is flat.")
        .words(turned),
        mind: Phrase::join(minds.filter(|mind| *mind != Phrase::default()), " "),
        steps: vec![board.as_str().into()],
        ..Phase::default()
    };
    let rest = phases.iter().filter(|phase| phase.on_sheets.is_empty());
    std::iter::once(saw).chain(rest.cloned()).collect()
}

/// The order of work as a part of the packet.
pub fn part(job: &Job, plan: &Plan, progress: Option<&Progress>) -> Part {
    let mut part = Part::new("order", "Order of work");
    if plan.boards.len() > 1 {
        part.text("All boards together, machine by machine.");
    }
    if Todo::after(progress).is_begun() {
        part.text("What is cut or made already is left out.");
    }
    let phases = as_its_sheet_says(job, phases(job, plan, progress));
    part.columns = 3;
    for (i, phase) in phases.into_iter().enumerate() {
        let count = match phase.settings {
            Some(1) => " (1 setting)".to_owned(),
            Some(n) => format!(" ({n} settings)"),
            None => String::new(),
        };
        part.heading(format!("{}. {}{count}", i + 1, phase.title));
        // What a board's sheet says is ticked off here, and stands there.
        let on_sheets = !phase.shared && !phase.on_sheets.is_empty();
        part.text(match on_sheets {
            true => phase.how.words(" Where, each board's sheet says."),
            false => phase.how,
        });
        if phase.mind != Phrase::default() {
            part.text(phase.mind);
        }
        part.steps(match on_sheets {
            true => phase.on_sheets.into_iter().map(Phrase::from).collect(),
            false => phase.steps,
        });
    }
    part
}

#[cfg(test)]
mod tests;
