//! The recut as a whole: what holds, what is best, and how near to the best it is proved to be.

use std::time::Instant;

use crate::job::Job;
use crate::layout::{Request, Watch};
use crate::plan::{self, Plan, Sawn, Violation};

use super::numbers::numbered;
use super::reduce::State;
use super::rules::with_chalk;
use super::score::{moves, staying};
use super::search::{PROVED, Search};
use super::stays::{as_plan, holding};

/// The plan that is chalked on the boards.
#[derive(Clone, Copy, Debug)]
pub struct Last<'a> {
    /// The plan, as read for the job as it is now.
    pub plan: &'a Plan,
    /// Whether it was made when cuts had to be plain already; if not, chalk that is not goes.
    pub plain: bool,
}

impl Last<'_> {
    /// Whether it counted money; a recut goes on doing so.
    pub fn by_money(&self) -> bool {
        self.plan.totals.money.is_some()
    }
}

/// A new plan for work in progress.
#[derive(Clone, Debug)]
pub struct Recut {
    /// The plan of the whole job, what is cut in its place.
    pub plan: Plan,
    /// What the saw has done.
    pub sawn: Sawn,
    /// Fronts whose chalk would have held and that are placed anew all the same.
    pub moved: Vec<usize>,
    /// Fronts whose chalk could not hold, each with the rule against it.
    pub released: Vec<(usize, Violation)>,
    /// Whether the last plan stands as it was.
    pub unchanged: bool,
}

/// Plans what is left to do: of plans of nearly equal cost the one that moves fewest fronts, one
/// front moved counting `[worth] moved` board feet.
///
/// `sawn` is what the saw has done, from [`begun`](super::begun). The bound of the plan's totals
/// is what any other recut costs at least, its moves counted, less the moves of this one.
pub fn recut(
    job: &Job,
    last: &Last<'_>,
    sawn: &Sawn,
    request: &Request,
    watch: &dyn Watch,
) -> Recut {
    let clock = Instant::now();
    let (held, released) = holding(job, last, sawn);
    let state = State {
        job,
        last,
        sawn,
        held: &held,
    };
    if let Some(plan) = as_it_was(state, released.is_empty()) {
        return Recut {
            plan,
            sawn: with_chalk(sawn, held.iter().copied()),
            moved: Vec::new(),
            released,
            unchanged: true,
        };
    }
    let request = Request {
        by_money: last.by_money(),
        ..request.clone()
    };
    let found = Search::new(state, request, watch, clock).run();
    let mut plan = found.plan;
    let gap = Some(found.gap).filter(|gap| *gap > PROVED).unwrap_or(0.0);
    plan::prove(&mut plan.totals, gap);
    plan.totals.seconds = clock.elapsed().as_secs_f64();
    plan.totals = plan::totals(job, &plan, last.by_money());
    Recut {
        moved: moves(state, &plan),
        sawn: with_chalk(&numbered(sawn, &plan), staying(state, &plan)),
        released,
        plan,
        unchanged: false,
    }
}

/// The last plan itself, when nothing speaks against it and nothing is left to plan.
fn as_it_was(state: State<'_>, all_held: bool) -> Option<Plan> {
    let State {
        job,
        last,
        sawn,
        held,
    } = state;
    let made = |front: usize| held.contains(&front) || sawn.is_fixed(front);
    let still_missing = |front: usize| last.plan.not_made.iter().any(|m| m.front == front);
    let all_made = (0..job.fronts.len()).all(made);
    let same_cost = |plan: &Plan| (plan.totals.cost - last.plan.totals.cost).abs() < PROVED;
    if !all_held || (0..job.fronts.len()).any(|f| !made(f) && !still_missing(f)) {
        return None;
    }
    let there = as_plan(job, last.plan, sawn, held, last.by_money());
    // A tone that counts for nothing may have changed: the figures are always the job's.
    (all_made && same_cost(&there)).then(|| Plan {
        totals: plan::totals(job, last.plan, last.by_money()),
        ..last.plan.clone()
    })
}
