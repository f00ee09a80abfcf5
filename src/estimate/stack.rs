//! What has to be bought when a stack is looked through and the best of it taken.

use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::buying::tally;
use super::lot::Lot;
use super::percentile::{Chance, Percentile};
use super::pile::Pile;
use super::{Ask, Watch};
use crate::job::{Job, Yard};
use crate::layout::{self, Looks};

/// How hard a stack is looked through.
const LOOKS: Looks = Looks {
    rounds: 60,
    choices: 80,
    rounds_each: 30,
    seed: 0,
};
/// Percentiles told.
const TOLD: [f64; 4] = [50.0, 80.0, 90.0, 95.0];

/// What stacks of one size come to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stack {
    /// Boards of each thickness looked through.
    pub look_through: usize,
    /// The share of such stacks from which every front can be made, with no break that could be spared.
    pub suffices: f64,
    /// The interval that share lies in, with 95 % confidence.
    pub suffices_between: [f64; 2],
    /// Wood to buy in this share of stacks or more, by per cent; nothing where too few suffice.
    pub feet: FeetAt,
    /// The same, each with its interval.
    pub percentiles: Vec<Percentile>,
    /// Stacks tried.
    pub stacks: usize,
}

/// Wood at the percentiles told.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct FeetAt {
    /// In half of the stacks.
    #[serde(rename = "50")]
    pub half: Option<f64>,
    /// In four of five.
    #[serde(rename = "80")]
    pub four_of_five: Option<f64>,
    /// In nine of ten.
    #[serde(rename = "90")]
    pub nine_of_ten: Option<f64>,
    /// In nineteen of twenty.
    #[serde(rename = "95")]
    pub nineteen_of_twenty: Option<f64>,
}

/// For each size asked for, what random stacks of so many boards a thickness come to.
///
/// A smaller stack is the beginning of a larger one, and what a smaller one gives is kept: to look through more never
/// needs more wood. Nothing where the search was stopped before the first stack had come to its end.
pub(super) fn stacks(job: &Job, lots: &[Lot], ask: &Ask, watch: &dyn Watch) -> Vec<Stack> {
    let mut sizes = ask.look_through.clone();
    sizes.sort_unstable();
    sizes.dedup();
    if sizes.is_empty() {
        return Vec::new();
    }
    let count = AtomicUsize::new(0);
    let one = |trial: usize| {
        let yard = &job.settings.yard;
        let lots = lots.iter();
        let needs = lots
            .map(|lot| needs(lot, yard, &sizes, ask, trial as u64, watch))
            .collect::<Option<Vec<_>>>()?;
        watch.done(count.fetch_add(1, Ordering::Relaxed) + 1, ask.trials);
        let summed = |size| needs.iter().map(|lot| lot[size]).sum();
        Some((0..sizes.len()).map(summed).collect::<Vec<f64>>())
    };
    let trials = (0..ask.trials.max(1)).into_par_iter();
    let done: Vec<Vec<f64>> = trials.filter_map(one).collect();
    if done.is_empty() {
        return Vec::new();
    }
    let of_size =
        |(at, &size): (usize, &usize)| stack(size, done.iter().map(|feet| feet[at]).collect());
    sizes.iter().enumerate().map(of_size).collect()
}

fn stack(look_through: usize, mut feet: Vec<f64>) -> Stack {
    feet.sort_by(f64::total_cmp);
    let enough = feet.iter().filter(|feet| feet.is_finite()).count();
    let chance = Chance::of(enough, feet.len());
    let percentiles = TOLD.map(|percent| Percentile::of(&feet, percent));
    let [half, four_of_five, nine_of_ten, nineteen_of_twenty] = percentiles.map(|p| p.value);
    Stack {
        look_through,
        suffices: chance.share,
        suffices_between: [chance.low, chance.high],
        feet: FeetAt {
            half,
            four_of_five,
            nine_of_ten,
            nineteen_of_twenty,
        },
        percentiles: percentiles.to_vec(),
        stacks: feet.len(),
    }
}

/// The least wood found for a lot in the first boards of its pile, for each number of them; infinite where they do
/// not make all of it. Nothing when it was stopped before its end.
fn needs(
    lot: &Lot,
    yard: &Yard,
    sizes: &[usize],
    ask: &Ask,
    trial: u64,
    watch: &dyn Watch,
) -> Option<Vec<f64>> {
    let unit = lot.job.settings.unit;
    let mut pile = Pile::new(yard, lot.on_sale.thickness, ask.seed, trial).measured_in(unit);
    let mut job = lot.job.clone();
    let mut least = f64::INFINITY;
    let mut needs = Vec::with_capacity(sizes.len());
    for &size in sizes {
        while job.boards.len() < size {
            job.boards.push(pile.board());
        }
        let stop = || watch.stop();
        let looks = Looks {
            seed: ask.seed ^ trial,
            ..LOOKS
        };
        let chosen = layout::choose(&job, looks, &stop);
        if watch.stop() {
            return None;
        }
        if chosen.missing == 0 && chosen.breaks <= lot.forced + ask.breaks {
            least = least.min(bought(&job, &chosen.boards));
        }
        needs.push(least);
    }
    Some(needs)
}

/// What the chosen boards are bought as, all together.
fn bought(job: &Job, chosen: &[usize]) -> f64 {
    let boards = chosen.iter().map(|&at| job.boards[at].clone()).collect();
    let taken = Job {
        boards,
        ..job.clone()
    };
    tally(&taken).last().copied().unwrap_or(0.0)
}

#[cfg(test)]
#[path = "stack_tests.rs"]
mod tests;
