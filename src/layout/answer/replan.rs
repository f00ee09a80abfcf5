//! Planning anew what is left of a job of which some is done and chalked.

use crate::job::Job;
use crate::layout::answer::finish::finish;
use crate::layout::model::history::History;
use crate::layout::model::problem::Problem;
use crate::layout::model::request::Request;
use crate::layout::model::watch::{Patience, Watch};
use crate::layout::search::optimiser::Optimiser;
use crate::plan::Plan;

/// A plan of work in progress, and what it costs as the history counts it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Replanned {
    /// The plan of the rest; the figures of its totals count boards whole, as always.
    pub plan: Plan,
    /// Its cost as the history counts it: moved fronts included, and [`UNMADE`](crate::layout::UNMADE) for
    /// fronts not made.
    pub cost: f64,
    /// No plan of the rest costs less than this, by the same count.
    pub bound: f64,
}

/// The best plan of what is left to do, with a proven bound on what any costs.
pub fn replan(job: &Job, history: &History, request: &Request, watch: &dyn Watch) -> Replanned {
    let begun = std::time::Instant::now();
    crate::layout::answer::threads::with_threads(request.threads, || {
        let mut problem = Problem::with(job, request.by_money, history);
        problem.patience = Patience::new(watch, request.time.map(|time| begun + time));
        let mut search = Optimiser::new(&problem, watch, request.time, begun);
        search.run(request.seed);
        Replanned {
            cost: search.incumbent.cost(&problem) + problem.lost(),
            bound: search.bound + problem.lost(),
            plan: finish(&problem, &search.incumbent, search.bound, search.seconds()),
        }
    })
}
