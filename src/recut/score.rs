//! Which of two recuts is better.

use std::collections::BTreeMap;

use crate::layout::UNMADE;
use crate::plan::{self, Blank, Plan, placed};

use super::partner::{mismatches, partner};
use super::reduce::State;
use super::stays::Fronts;

/// What a plan costs, its moves, its unlike replacements and the fronts it does not make counted.
pub(super) fn score(state: State<'_>, plan: &Plan) -> f64 {
    let State { job, last, .. } = state;
    let price = match last.by_money() {
        true => plan::mean_price(job).unwrap_or(1.0),
        false => 1.0,
    };
    let missing = plan.not_made.iter().map(|missing| {
        let front = &job.fronts[missing.front];
        front.width.inches() * front.height.inches() / 144.0
    });
    let moved = job.settings.worth.moved * moves(state, plan).len() as f64;
    plan.totals.cost + (moved + unlike(state, plan)) * price + UNMADE * missing.sum::<f64>()
}

/// What replacements cost for not looking like their neighbours.
fn unlike(state: State<'_>, plan: &Plan) -> f64 {
    let State {
        job, sawn, held, ..
    } = state;
    let new = |blank: &Blank| {
        blank.staves == 1 && !held.contains(&blank.front) && !sawn.is_fixed(blank.front)
    };
    let steps: usize = placed(plan)
        .filter(|(.., blank)| new(blank))
        .filter_map(|(board, .., blank)| {
            let partner = partner(job, sawn, blank.front)?;
            Some(mismatches(partner, &job.boards[board.board]))
        })
        .sum();
    job.settings.worth.tone_run * steps as f64
}

/// Fronts whose chalk would have held and that lie elsewhere now, or nowhere.
pub(super) fn moves(state: State<'_>, plan: &Plan) -> Vec<usize> {
    let (before, now) = (spots(state.last.plan), spots(plan));
    let moved = |front: &&usize| before.get(front) != now.get(front);
    state.held.iter().filter(moved).copied().collect()
}

/// Chalk that stays where it lay.
pub(super) fn staying(state: State<'_>, plan: &Plan) -> Fronts {
    let moved = moves(state, plan);
    let held = state.held.iter().copied();
    held.filter(|front| !moved.contains(front)).collect()
}

/// Where the blanks of each front lie, and which way round.
fn spots(plan: &Plan) -> BTreeMap<usize, Vec<(usize, u32, Blank)>> {
    let mut spots: BTreeMap<usize, Vec<(usize, u32, Blank)>> = BTreeMap::new();
    for (board, _, _, blank) in placed(plan) {
        // A stretch may have another number and still lie where it lay.
        let blank = Blank {
            stretch: 0,
            ..blank.clone()
        };
        let own = spots.entry(blank.front).or_default();
        own.push((board.board, board.copy, blank));
        own.sort_by_key(|(_, _, blank)| blank.stave);
    }
    spots
}
