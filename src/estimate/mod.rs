//! How much to buy before the boards exist: random piles, bought board by board until they do.
//!
//! The job's runs are sorted into [`Lot`]s by the thickness they are bought in. A trial draws a
//! pile of the yard's boards for each lot and buys them in their order until the construction
//! heuristic makes every front with no break that could be spared. What that took, over many
//! piles, is the answer. Equal jobs, seeds and numbers of trials give equal answers, whatever
//! the number of threads.

mod answer;
mod buying;
mod clear;
mod loss;
mod lot;
mod need;
mod obstacle;
mod percentile;
mod pile;
mod purchase;
mod short_list;
mod stack;
mod sum_up;
mod words;

#[cfg(test)]
mod tests;

use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

pub use answer::{Bought, Estimate, Held, LotNeed, RunNeed, Saving, Thumb};
pub use loss::{LOSS_NOTE, Loss, MEASURED_LOSS, loss};
pub use lot::{Lot, lots};
pub use obstacle::{Obstacle, Why};
pub use percentile::{CONFIDENCE, Chance, Percentile};
pub use purchase::Purchase;
pub use short_list::{Candidate, ShortList, short_list};
pub use stack::{FeetAt, Stack};
pub use words::{amount, asked, fine_amount, yard as yard_in_words};

use crate::job::Job;
use buying::Outcome;

/// What a maker asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Breaks allowed beyond those no board of the yard can spare.
    pub breaks: usize,
    /// Most trials.
    pub trials: usize,
    /// Threads; 0 takes all there are. Changes no answer.
    pub threads: usize,
    /// Seed of the piles.
    pub seed: u64,
    /// Purchases to judge.
    pub have: Vec<Purchase>,
    /// Stacks of how many boards a thickness to look through.
    pub look_through: Vec<usize>,
}

impl Default for Ask {
    fn default() -> Ask {
        Ask {
            breaks: 0,
            trials: 1000,
            threads: 0,
            seed: 0,
            have: Vec::new(),
            look_through: Vec::new(),
        }
    }
}

/// Someone who waits for an estimate.
pub trait Watch: Sync {
    /// Called after every trial, from any thread.
    fn done(&self, _trials: usize, _of: usize) {}

    /// Whether to stop now with the trials that are done.
    fn stop(&self) -> bool {
        false
    }
}

/// Waits in silence and never stops.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Watch for Silent {}

/// Trials between two looks at how narrow the intervals are.
const BATCH: usize = 100;
/// Fewer trials are never enough.
const LEAST_TRIALS: usize = 300;
/// Trials stop when no percentile's interval is wider than this share of it.
const NARROW: f64 = 0.05;
/// Further breaks whose savings are told.
const MORE_BREAKS: usize = 3;

/// Why there is no estimate.
#[derive(Clone, Debug, PartialEq)]
pub enum NoEstimate {
    /// Fronts no board of the yard could make. No trial was run then.
    Obstacles(Vec<Obstacle>),
    /// It was stopped before the first trial had come to its end.
    NoTrial,
}

/// How much to buy for `job` from the yard its settings describe; the job's boards do not count.
///
/// # Errors
/// See [`NoEstimate`].
pub fn estimate(job: &Job, ask: &Ask, watch: &dyn Watch) -> Result<Estimate, NoEstimate> {
    let lots = lots(job).map_err(NoEstimate::Obstacles)?;
    let both = || {
        let trials = run_trials(job, &lots, ask, watch);
        (trials, stack::stacks(job, &lots, ask, watch))
    };
    let (trials, stacks) = match pool(ask.threads) {
        Some(pool) => pool.install(both),
        None => both(),
    };
    if trials.done.is_empty() {
        return Err(NoEstimate::NoTrial);
    }
    let estimate = sum_up::sum_up(job, &lots, ask, &trials.done);
    Ok(Estimate {
        unfinished: trials.unfinished,
        stacks,
        ..estimate
    })
}

/// A pool of its own when a number of threads is asked for; where the system grants none, the
/// common one will do.
fn pool(threads: usize) -> Option<rayon::ThreadPool> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads);
    (threads > 0).then(|| pool.build().ok()).flatten()
}

/// Trials that came to an end, and how many were stopped before theirs.
struct Trials {
    /// What each came to, lot by lot.
    done: Vec<Vec<Outcome>>,
    unfinished: usize,
}

fn run_trials(job: &Job, lots: &[Lot], ask: &Ask, watch: &dyn Watch) -> Trials {
    let yard = &job.settings.yard;
    let most = ask.breaks + MORE_BREAKS;
    let wanted = ask.trials.max(1);
    let count = AtomicUsize::new(0);
    let begun = AtomicUsize::new(0);
    let one = |trial: usize| -> Option<Vec<Outcome>> {
        if watch.stop() {
            return None;
        }
        begun.fetch_add(1, Ordering::Relaxed);
        let outcomes = lots
            .iter()
            .map(|lot| buying::trial(lot, yard, most, (ask.seed, trial as u64), watch))
            .collect::<Option<Vec<_>>>()?;
        watch.done(count.fetch_add(1, Ordering::Relaxed) + 1, wanted);
        Some(outcomes)
    };
    let mut done: Vec<Vec<Outcome>> = Vec::new();
    let mut next = 0;
    while next < wanted && !watch.stop() {
        let batch = next..(next + BATCH).min(wanted);
        next = batch.end;
        let outcomes: Vec<_> = batch.into_par_iter().map(one).collect();
        done.extend(outcomes.into_iter().flatten());
        if done.len() >= LEAST_TRIALS && sum_up::narrow(&done, ask.breaks, NARROW) {
            break;
        }
    }
    Trials {
        unfinished: begun.into_inner() - done.len(),
        done,
    }
}
