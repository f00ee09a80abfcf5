//! The plan a state stands for, with its figures.

use crate::layout::answer::assemble::Unplaced;
use crate::layout::answer::{assemble, reasons};
use crate::layout::heuristics::state::State;
use crate::layout::model::problem::Problem;
use crate::layout::model::watch::Patience;
use crate::plan;
use crate::plan::{NotMade, Plan, Totals};

/// The finished plan; `bound` as far as proved, `seconds` since the search began.
pub(in crate::layout) fn finish(
    problem: &Problem,
    state: &State,
    bound: f64,
    seconds: f64,
) -> Plan {
    // What was found is written out however long that takes.
    let problem = &Problem {
        patience: Patience::default(),
        ..problem.clone()
    };
    let (boards, unplaced) = assemble::boards(problem, &state.boards);
    let lost = !unplaced.is_empty();
    let mut plan = Plan {
        totals: Totals {
            bound,
            seconds,
            ..Totals::default()
        },
        boards,
        not_made: not_made(problem, state, &unplaced),
    };
    plan.totals = plan::totals(problem.job, &plan, problem.by_money);
    // The search counts what is not made at a price of its own; a plan that lost a board proves nothing.
    let gap = if lost {
        f64::INFINITY
    } else {
        state.cost(problem) - bound
    };
    plan::prove(&mut plan.totals, gap);
    plan.totals = plan::totals(problem.job, &plan, problem.by_money);
    plan
}

/// The fronts the plan does not make, and those of boards that could not be laid out.
fn not_made(problem: &Problem, state: &State, unplaced: &[Unplaced]) -> Vec<NotMade> {
    let unmade = state.unmade();
    let mut all: Vec<NotMade> = unmade
        .map(|row| reasons::not_made(problem, state, row))
        .collect();
    let mut lost: Vec<usize> = unplaced.iter().flat_map(|of| of.rows.clone()).collect();
    lost.sort_unstable();
    lost.dedup();
    all.extend(
        lost.into_iter()
            .map(|row| reasons::lost(problem, state, row)),
    );
    all.sort_by_key(|not_made| not_made.front);
    all
}
