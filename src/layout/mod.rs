//! The optimiser: which board makes which front.

#![allow(dead_code)]

mod assemble;
mod finish;
mod geometry;
mod history;
mod insert;
mod pattern;
mod place;
mod problem;
mod reasons;
mod request;
mod ruin;
mod state;
mod stretches;
mod strip;
mod watch;
mod zone;

use crate::job::Job;
use crate::plan::Plan;

pub use history::{Counts, History, Replanned, replan};
pub use request::{Limits, Request};
pub use watch::{News, Silent, Watch};

/// The best plan found for `job`, with a proven bound on what any plan must cost.
///
/// Fronts that cannot be made are listed in [`Plan::not_made`]; the rest is planned.
pub fn plan(job: &Job, request: &Request, _watch: &dyn Watch) -> Plan {
    quick(job, request.seed)
}

/// Ruin-and-recreate rounds of [`quick`].
const QUICK_ROUNDS: usize = 200;

/// A good plan within milliseconds, by the construction heuristic alone: no bound.
pub fn quick(job: &Job, seed: u64) -> Plan {
    let begun = std::time::Instant::now();
    let problem = problem::Problem::new(job, false);
    let costs = pattern::Costs::default();
    let mut ruin = ruin::Ruin::new(&problem, &costs, seed);
    for _ in 0..QUICK_ROUNDS {
        ruin.round(2.0);
    }
    finish::finish(&problem, &ruin.best, 0.0, begun.elapsed().as_secs_f64())
}
