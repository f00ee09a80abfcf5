//! Which of identical boards is which: those that bear what they bore keep their chalk.

use std::collections::BTreeMap;

use crate::job::Job;
use crate::plan::{Blank, BoardPlan, Plan, Section};

use super::reduce::State;
use super::stays::{Fronts, in_use};

/// Of identical boards takes the copies that bore the same fronts before, and where a board bears
/// just the fronts it bore, leaves them where they are chalked.
pub(super) fn keep_copies(state: State<'_>, plan: &mut Plan, stays: &Fronts) {
    let State {
        job, sawn, held, ..
    } = state;
    let last = state.last.plan;
    let all_hold = |b: &BoardPlan| blanks(b).all(|blank| held.contains(&blank.front));
    let there: Vec<(usize, u32)> = in_use(last, sawn, stays)
        .iter()
        .map(|b| (b.board, b.copy))
        .collect();
    for kind in 0..job.boards.len() {
        let free = |b: &BoardPlan| b.board == kind && !there.contains(&(b.board, b.copy));
        let fresh: Vec<usize> = (0..plan.boards.len())
            .filter(|&i| free(&plan.boards[i]))
            .collect();
        let mut copies: Vec<u32> = job.boards[kind]
            .copies
            .iter()
            .copied()
            .filter(|&copy| !there.contains(&(kind, copy)))
            .collect();
        let shared = |index: usize, copy: u32, plan: &Plan| {
            let before = last
                .boards
                .iter()
                .find(|b| (b.board, b.copy) == (kind, copy));
            before.map_or(0, |before| {
                let now = fronts(&plan.boards[index]);
                fronts(before)
                    .iter()
                    .filter(|front| now.contains(front))
                    .count()
            })
        };
        // The best pairs first; equal ones in the order of the boards, then the copies.
        let mut pairs: Vec<(usize, usize, u32)> = Vec::new();
        for &index in &fresh {
            pairs.extend(
                copies
                    .iter()
                    .map(|&copy| (shared(index, copy, plan), index, copy)),
            );
        }
        pairs.sort_by_key(|&(shared, index, copy)| (std::cmp::Reverse(shared), index, copy));
        let mut open = fresh.clone();
        for (_, index, copy) in pairs {
            if open.contains(&index) && copies.contains(&copy) {
                open.retain(|&other| other != index);
                copies.retain(|&other| other != copy);
                plan.boards[index].copy = copy;
                if let Some(before) = last.boards.iter().find(|b| {
                    (b.board, b.copy) == (kind, copy)
                        && all_hold(b)
                        && fronts(b) == fronts(&plan.boards[index])
                        && stretches(job, b) == stretches(job, &plan.boards[index])
                }) {
                    let mut before = before.sections.clone();
                    tell_stretches(&mut before, &plan.boards[index]);
                    plan.boards[index].sections = before;
                }
            }
        }
    }
    plan.boards.sort_by_key(|board| (board.board, board.copy));
}

fn blanks(board: &BoardPlan) -> impl Iterator<Item = &Blank> {
    let strips = board.sections.iter().flat_map(|section| &section.strips);
    strips.flat_map(|strip| &strip.blanks)
}

/// The fronts on a board, each stave by its number and how wide it is.
fn fronts(board: &BoardPlan) -> Vec<(usize, u32, u32, i64)> {
    let width = |b: &Blank| {
        if b.staves > 1 {
            (b.high - b.low).nm()
        } else {
            0
        }
    };
    let mut fronts: Vec<(usize, u32, u32, i64)> = blanks(board)
        .map(|b| (b.front, b.stave, b.staves, width(b)))
        .collect();
    fronts.sort_unstable();
    fronts
}

/// Which fronts of a board are in one stretch.
fn stretches(job: &Job, board: &BoardPlan) -> Vec<Vec<usize>> {
    let mut groups: BTreeMap<(usize, u32), Vec<usize>> = BTreeMap::new();
    for blank in blanks(board) {
        let run = job.place_of(blank.front).0;
        groups
            .entry((run, blank.stretch))
            .or_default()
            .push(blank.front);
    }
    let mut groups: Vec<Vec<usize>> = groups.into_values().collect();
    groups.iter_mut().for_each(|group| group.sort_unstable());
    groups.sort();
    groups
}

/// Gives the blanks of old sections the stretch numbers their fronts have now.
fn tell_stretches(sections: &mut [Section], now: &BoardPlan) {
    let strips = sections.iter_mut().flat_map(|section| &mut section.strips);
    for blank in strips.flat_map(|strip| &mut strip.blanks) {
        if let Some(new) = blanks(now).find(|b| b.front == blank.front) {
            blank.stretch = new.stretch;
        }
    }
}
