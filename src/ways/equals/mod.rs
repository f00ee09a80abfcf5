//! Among plans of equal cost, one that reads better: a proved plan often leaves room.
//!
//! A section slides along waste, a strip across; a board's cuts lie mirrored; a stretch is turned end for end or face
//! over; two that are alike change places; a break falls elsewhere in its run. Each such change that costs nothing
//! and breaks no rule is tried, and the first that reads better is gone on from, until none does. That is a local
//! search: it promises only that the plan found reads no worse than the one it began with.

mod moves;
mod stretches;

use std::cmp::Ordering;

use crate::job::Job;
use crate::plan::{self, Limits, Plan};

/// Costs that differ by less are equal.
const EQUAL: f64 = 1e-6;

/// How a plan reads, the first figure before the second, less being better.
pub type Reading = [f64; 4];

/// What a plan is made for.
pub struct Case<'c> {
    /// The job.
    pub job: &'c Job,
    /// Whether money is counted.
    pub by_money: bool,
    /// What the plan must keep to.
    pub limits: &'c Limits,
    /// How a plan reads.
    pub reads: &'c dyn Fn(&Plan) -> Reading,
    /// Whether to stop with the best so far.
    pub stop: &'c dyn Fn() -> bool,
}

/// A plan of the same cost that reads no worse, and its reading.
///
/// # Panics
/// When the plan is not one for the job.
pub fn best_reading(case: &Case, plan: &Plan) -> (Plan, Reading) {
    let mut best = (plan.clone(), (case.reads)(plan));
    while !(case.stop)() {
        let Some(better) = better(case, &best) else {
            break;
        };
        best = better;
    }
    best
}

/// The first change that reads better.
fn better(case: &Case, (plan, reading): &(Plan, Reading)) -> Option<(Plan, Reading)> {
    let changed = moves::all(case.job, plan).map(|mut changed| {
        changed.boards.sort_by_key(|cut| (cut.board, cut.copy));
        let found = (case.reads)(&changed);
        (changed, found)
    });
    changed
        .take_while(|_| !(case.stop)())
        .filter(|(_, found)| order(found, reading) == Ordering::Less)
        .find_map(|(changed, found)| Some((equal(case, plan, changed)?, found)))
}

/// A changed plan with its figures, when it costs the same and keeps every rule.
fn equal(case: &Case, plan: &Plan, mut changed: Plan) -> Option<Plan> {
    changed.totals = plan::totals(case.job, &changed, case.by_money);
    let dearer = (changed.totals.cost - plan.totals.cost).abs() > EQUAL;
    let kept = || plan::check(case.job, &changed, case.by_money, case.limits).is_ok();
    (!dearer && kept()).then_some(changed)
}

/// Differences that no eye sees do not count.
fn order(one: &Reading, other: &Reading) -> Ordering {
    const SEEN: f64 = 1e-3;
    let figures = one.iter().zip(other);
    let ordered = figures.map(|(a, b)| match (a - b).abs() < SEEN {
        true => Ordering::Equal,
        false => a.total_cmp(b),
    });
    ordered.fold(Ordering::Equal, Ordering::then)
}
