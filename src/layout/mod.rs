//! The optimiser: which board makes which front.
//!
//! Exact cover by board patterns, by column generation and branch and price. A *pattern* (a column) is one board
//! cut into sections, strips and stretches. First plans come from putting every run where it costs least, and
//! from taking parts of it up again. Then the *restricted master*, the relaxation over the patterns known, which
//! may cut half of one, gives every front a price (its *dual*); *pricing* looks for patterns worth more than
//! their wood at those prices (of *reduced cost* below nothing), which join the master until there are none.
//! Where plans cost so many whole boards, the fronts are meanwhile packed into fewer boards than the best plan
//! has; where that fails, the larger of them may be shown to need all its boards by themselves, whatever becomes
//! of the small ones.
//!
//! The floors, each importing only from those named before it, and no files in a circle (`floors` tests both):
//!
//! | floor | what stands there |
//! |---|---|
//! | `model` | the job as the optimiser sees it, patterns, what counts in the cost |
//! | `geometry` | coordinates of a pattern on its board, and what its wood costs |
//! | `pricing` | the best patterns of one board at given prices: tables that bound, a walk that finds |
//! | `master` | the restricted master, its duals made safe, cuts looked for (`separate`, one family a file) |
//! | `heuristics` | plans without a proof: construction, ruin and recreate, rounding, packing |
//! | `search` | the root, lists of patterns within the gap, branching, the proof |
//! | `answer` | from the best plan to what is handed out |
//!
//! **Why the bound is one.** Take any prices. A plan cuts every front once, so its cost is the sum
//! of the prices, plus for each pattern what its wood costs beyond the prices of what it cuts, plus
//! the like for breaks, glue lines and tones. No pattern on a board falls below minus the best
//! value pricing has found there, or not ruled out; the other terms are not negative, because the
//! prices are made so (`master`). So the sum of the prices less, for each board there is, that
//! best value, is at most the cost of any plan (weak duality). Floating-point duals only make the
//! bound weaker, never wrong.
//!
//! **Why a closed gap is a proof.** A pattern in a plan that beats the best known may fall short of
//! its price by less than the gap, or, where plans cost so many whole boards, than what is left of the gap
//! for a plan a board cheaper. All such patterns are listed, and the best plan made of them is
//! found by cuts and branching (`search::list`). A list that goes only part of the way raises the bound by
//! that much: a plan with a pattern off the list costs at least the bound and how far the list goes.
//! Where the gap is too wide for a list, the plans are split by questions, each part gets prices of
//! its own, and is closed by a list in turn (`search::tree`).
//!
//! **What is proved.** The rules of cutting leave finitely many plans worth looking at, and the search is over
//! all of them: why these suffice stands where each is made, by what can be pushed until it touches what.
//!
//! | what | places or widths that suffice | where |
//! |---|---|---|
//! | section along the board | tight places, the ends of slides, growth over all slack or to the shortest kept piece | `geometry::place::along`, `geometry::place::interval` |
//! | strip across the section | chained to an edge, a defect, the line of the narrowest kept edge | `geometry::place::across` |
//! | blank in its strip | low or high edge; as near the hook end or the far end as its stretch allows | `geometry::place::strip`, `geometry::place::stretch` |
//! | group milled together | every way to part a stretch; each as near as its least and greatest length allow | `geometry::place::stretch` |
//! | face, direction, order | all | `geometry::place::strip` |
//! | stave | whole steps, whole boards, what the others leave missing | `model::stave_widths` |
//!
//! Where a set is too large to go through, what it could be worth at most stands in for it: then the bound
//! stays one, and the plan is not called proved.

mod answer;
#[cfg(test)]
mod floors;
mod geometry;
mod heuristics;
mod master;
mod model;
mod pricing;
mod search;

use std::time::Instant;

use crate::job::Job;
use crate::plan::Plan;

pub use crate::plan::Limits;
pub use answer::choose::{Chosen, Looks, choose};
pub use answer::replan::{Replanned, replan};
pub use answer::trial::{Bought, Effort, buy};
pub use model::history::{Chalk, Counts, History, Part};
pub use model::request::Request;
pub use model::watch::{News, Silent, Watch};
pub use model::worths::UNMADE;
pub use search::warm_start::WarmStart;

/// The best plan found for `job`, with a proven bound on what any plan must cost.
///
/// Fronts that cannot be made are listed in [`Plan::not_made`]; the rest is planned.
pub fn plan(job: &Job, request: &Request, watch: &dyn Watch) -> Plan {
    plan_from(job, request, watch, &mut WarmStart::default())
}

/// The same, starting from what an earlier search knew, where that was of nearly the same job; afterwards `warm` is
/// what this search knew, if it came to prices.
///
/// Cost and bound are as good as from nothing. Which of several plans of the same cost it comes to may differ.
pub fn plan_from(job: &Job, request: &Request, watch: &dyn Watch, warm: &mut WarmStart) -> Plan {
    let begun = Instant::now();
    answer::threads::with_threads(request.threads, || search(job, request, watch, begun, warm))
}

fn search(
    job: &Job,
    request: &Request,
    watch: &dyn Watch,
    begun: Instant,
    warm: &mut WarmStart,
) -> Plan {
    let mut problem = model::problem::Problem::new(job, request.by_money);
    problem.patience = model::watch::Patience::new(watch, request.time.map(|time| begun + time));
    problem.keep_to(request.limits);
    if !problem.gluings.is_empty() {
        let costs = geometry::costs::Costs::default();
        let first = heuristics::ruin::Ruin::new(&problem, &costs, request.seed).best;
        let glued = |gluing| !first.uses(gluing) || first.may_be_glued(&problem, gluing);
        if first.penalty(&problem) == 0.0 && (0..problem.gluings.len()).all(glued) {
            let cost = first.cost(&problem);
            problem.leave_out_dear_glue(cost);
        }
    }
    let search = search::optimiser::Optimiser::new(&problem, watch, request.time, begun);
    let mut search = search.from(warm.for_job(&problem));
    search.run(request.seed);
    let plan = answer::finish::finish(&problem, &search.incumbent, search.bound, search.seconds());
    if let Some(known) = search.warm_start() {
        *warm = known;
    }
    plan
}

/// What no plan of `job` costs less than, by prices alone: column generation from the patterns of
/// first plans, without looking for better plans.
pub fn price_bound(job: &Job) -> f64 {
    let begun = Instant::now();
    let problem = model::problem::Problem::new(job, false);
    let mut search = search::optimiser::Optimiser::new(&problem, &Silent, None, begun);
    search.price_alone();
    search.bound
}

/// Ruin-and-recreate rounds of [`quick`].
const QUICK_ROUNDS: usize = 200;

/// A good plan within milliseconds, by the construction heuristic alone: no bound.
pub fn quick(job: &Job, seed: u64) -> Plan {
    let begun = Instant::now();
    let problem = model::problem::Problem::new(job, false);
    let costs = geometry::costs::Costs::default();
    let mut ruin = heuristics::ruin::Ruin::new(&problem, &costs, seed);
    for _ in 0..QUICK_ROUNDS {
        ruin.round(2.0);
    }
    answer::finish::finish(&problem, &ruin.best, 0.0, begun.elapsed().as_secs_f64())
}
