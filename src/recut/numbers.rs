//! Stretch numbers of a plan put together from what is there and what is new.

use crate::job::Job;
use crate::plan::{Blank, Plan, Sawn, placed};

use super::stays::Fronts;

/// Numbers the stretches of every run anew, from 1 along the run.
///
/// Neighbours are in one stretch when they were before and both are there, or when both are new
/// and the optimiser put them in one.
pub(super) fn number_stretches(
    job: &Job,
    plan: &mut Plan,
    last: &Plan,
    sawn: &Sawn,
    stays: &Fronts,
) {
    let is_there = |front: usize| stays.contains(&front) || sawn.is_fixed(front);
    let stretch_in = |plan: &Plan, front: usize| {
        placed(plan)
            .find(|(.., blank)| blank.front == front)
            .map(|(.., blank)| blank.stretch)
    };
    let mut numbers = vec![0; job.fronts.len()];
    for run in &job.runs {
        let mut number = 0;
        let mut before: Option<(bool, Option<u32>)> = None;
        for &front in &run.fronts {
            let there = is_there(front);
            let stretch = stretch_in(if there { last } else { &*plan }, front);
            let now = stretch.map(|_| (there, stretch));
            if now.is_some() && now != before {
                number += 1;
            }
            before = now;
            numbers[front] = number;
        }
    }
    for board in &mut plan.boards {
        let strips = board
            .sections
            .iter_mut()
            .flat_map(|section| &mut section.strips);
        for blank in strips.flat_map(|strip| &mut strip.blanks) {
            blank.stretch = numbers[blank.front];
        }
    }
}

/// What is cut, its stretches numbered as in the plan it now stands in.
pub(super) fn numbered(sawn: &Sawn, plan: &Plan) -> Sawn {
    let mut sawn = sawn.clone();
    for piece in sawn.pieces.iter_mut().filter(|piece| piece.stands()) {
        let same =
            |blank: &&Blank| (blank.front, blank.stave) == (piece.blank.front, piece.blank.stave);
        if let Some(blank) = placed(plan).map(|(.., blank)| blank).find(same) {
            piece.blank.stretch = blank.stretch;
        }
    }
    sawn
}
