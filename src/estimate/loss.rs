//! How much the fast planner makes a maker buy too much.

use std::time::Duration;

use rayon::prelude::*;
use serde::Serialize;

use super::buying::{self, Outcome};
use super::lot::{Lot, lots};
use super::obstacle::Obstacle;
use super::pile::Pile;
use crate::job::Job;
use crate::layout::{self, Request, Silent};

/// Share of the feet bought that the full optimiser would have spared, as measured by
/// `tests/planning/estimate_loss.rs` over 200 piles of the chest in `sample-boards` (0.48 %) and 200 of a
/// random job (0.21 %). In 280 of these 400 piles that is proved; in the others the optimiser ran
/// out of time before it could tell whether a board fewer would do.
pub const MEASURED_LOSS: f64 = 0.005;

/// The measured loss in words, for whoever reads an estimate.
pub const LOSS_NOTE: &str = "Measured on 400 random piles of two jobs, it buys 0.5 % more \
    than the full optimiser was found to need; 7 in 10 of them are proved.";

/// What the fast planner bought too much, over a number of piles.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Loss {
    /// Piles, each of one thickness, that the fast planner came to an end with.
    pub piles: usize,
    /// Of these, piles in which the full optimiser proved that no board fewer would do.
    pub exact: usize,
    /// Piles in which the full optimiser made do with fewer boards.
    pub fewer: usize,
    /// Piles in which the full optimiser ran out of time before it knew.
    pub unknown: usize,
    /// Board feet bought by the fast planner.
    pub feet: f64,
    /// Board feet the full optimiser made do with; where it did not know, as much as the other.
    pub least: f64,
}

/// Holds the fast planner against the full optimiser on `piles` piles of each lot of `job`. The
/// optimiser may search each question for `time`.
///
/// The optimiser is asked for a plan with one board less, the same pile's order kept, until it
/// finds none.
///
/// # Errors
/// The fronts no board of the job's yard could make.
pub fn loss(job: &Job, piles: usize, seed: u64, time: Duration) -> Result<Loss, Vec<Obstacle>> {
    let lots = lots(job)?;
    let each: Vec<Loss> = lots
        .iter()
        .flat_map(|lot| (0..piles as u64).map(move |trial| (lot, trial)))
        .collect::<Vec<_>>()
        .into_par_iter()
        .filter_map(|(lot, trial)| of_pile(job, lot, seed, trial, time))
        .collect();
    Ok(each.into_iter().fold(Loss::default(), Loss::with))
}

impl Loss {
    /// Share of the feet bought that the full optimiser would have spared.
    pub fn share(&self) -> f64 {
        if self.feet > 0.0 {
            1.0 - self.least / self.feet
        } else {
            0.0
        }
    }

    fn with(self, other: Loss) -> Loss {
        Loss {
            piles: self.piles + other.piles,
            exact: self.exact + other.exact,
            fewer: self.fewer + other.fewer,
            unknown: self.unknown + other.unknown,
            feet: self.feet + other.feet,
            least: self.least + other.least,
        }
    }
}

fn of_pile(job: &Job, lot: &Lot, seed: u64, trial: u64, time: Duration) -> Option<Loss> {
    let yard = &job.settings.yard;
    let outcome = buying::trial(lot, yard, 0, (seed, trial), &super::Silent)?;
    if outcome.feet[0].is_infinite() {
        return None;
    }
    if waits_for_last(lot, &outcome) {
        return Some(Loss {
            piles: 1,
            exact: 1,
            feet: outcome.feet[0],
            least: outcome.feet[0],
            ..Loss::default()
        });
    }
    let mut pile =
        Pile::new(yard, lot.on_sale.thickness, seed, trial).measured_in(lot.job.settings.unit);
    let mut asked = lot.job.clone();
    asked.settings.worth.tone_run = 0.0;
    asked.settings.worth.tone_case = 0.0;
    asked.settings.worth.mixed_log = 0.0;
    asked.settings.worth.mixed_cut = 0.0;
    asked.boards = (0..outcome.boards).map(|_| pile.board()).collect();
    let tallied = buying::tally(&asked);
    // A break dearer than all the wood: the best plan has as few as can be.
    let wood: f64 = asked
        .boards
        .iter()
        .map(|b| asked.volume_of(b).value())
        .sum();
    let dear = 1.0 + wood;
    asked.settings.worth.unbroken = dear;
    let request = Request {
        time: Some(time),
        threads: 1,
        ..Request::default()
    };
    let mut known = true;
    while asked.boards.len() > 1 {
        let last = asked.boards.pop();
        let plan = layout::plan(&asked, &request, &Silent);
        if plan.not_made.is_empty() && plan.totals.breaks <= lot.forced {
            continue;
        }
        // No plan makes every front with few enough breaks when none costs so little.
        known = plan.totals.proved || plan.totals.bound > wood + dear * lot.forced as f64;
        asked.boards.extend(last);
        break;
    }
    let fewer = asked.boards.len() < outcome.boards;
    Some(Loss {
        piles: 1,
        exact: usize::from(known && !fewer),
        fewer: usize::from(fewer),
        unknown: usize::from(!known),
        feet: outcome.feet[0],
        least: tallied[asked.boards.len() - 1],
    })
}

/// Whether the last board bought is the first one that takes some run whole: then no plan does
/// with fewer, and the optimiser need not be asked.
fn waits_for_last(lot: &Lot, outcome: &Outcome) -> bool {
    let in_one_piece = |run: usize| {
        let mut fronts = lot.job.runs[run].fronts.iter();
        !fronts.any(|&front| lot.job.fronts[front].glue)
    };
    let first_fit = outcome.first_fit.iter().enumerate();
    lot.forced == 0
        && first_fit
            .filter(|&(run, _)| in_one_piece(run))
            .any(|(_, &feet)| feet >= outcome.feet[0])
}
