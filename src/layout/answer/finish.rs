//! The plan a state stands for, with its figures.

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
    let mut plan = Plan {
        totals: Totals {
            bound,
            seconds,
            ..Totals::default()
        },
        boards: assemble::boards(problem, &state.boards),
        not_made: not_made(problem, state),
    };
    plan.totals = plan::totals(problem.job, &plan, problem.by_money);
    // The search counts what is not made at a price of its own.
    plan::prove(&mut plan.totals, state.cost(problem) - bound);
    plan.totals = plan::totals(problem.job, &plan, problem.by_money);
    plan
}

fn not_made(problem: &Problem, state: &State) -> Vec<NotMade> {
    let mut rows: Vec<usize> = state.unmade().collect();
    rows.sort_by_key(|&row| problem.chain[row]);
    rows.into_iter()
        .map(|row| reasons::not_made(problem, state, row))
        .collect()
}
