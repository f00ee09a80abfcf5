//! From trials to the answer.

use super::answer::{Bought, Estimate, Held, LotNeed, RunNeed, Saving, Thumb};
use super::buying::Outcome;
use super::lot::Lot;
use super::need;
use super::percentile::{Chance, Percentile};
use super::{Ask, MORE_BREAKS, Purchase, words};
use crate::job::Job;
use crate::measure::Unit;

/// The percentiles told.
const TOLD: [f64; 4] = [50.0, 80.0, 90.0, 95.0];
/// Per cent the rule of thumb adds to the net feet. Common practice, no source.
const THUMB: [f64; 2] = [20.0, 30.0];

/// Whether every percentile told of all lots together is known to within `share` of itself.
pub(super) fn narrow(trials: &[Vec<Outcome>], breaks: usize, share: f64) -> bool {
    let told = percentiles(totals(trials, breaks));
    told.iter().all(|percentile| percentile.spread() <= share)
}

/// Everything the trials say.
pub(super) fn sum_up(job: &Job, lots: &[Lot], ask: &Ask, trials: &[Vec<Outcome>]) -> Estimate {
    let all = totals(trials, ask.breaks);
    let net = lots.iter().map(Lot::net).sum();
    let unit = job.settings.unit;
    let useless = need::useless_below(lots);
    Estimate {
        title: job.settings.title.clone(),
        unit,
        yard: words::yard(&job.settings),
        trials: trials.len(),
        unfinished: 0,
        endless: all.iter().filter(|feet| feet.is_infinite()).count(),
        seed: ask.seed,
        breaks: ask.breaks,
        fronts: job.fronts.len(),
        net,
        rough: lots.iter().map(Lot::rough).sum(),
        lots: (0..lots.len())
            .map(|lot| lot_need(job, lots, ask, trials, lot))
            .collect(),
        all: bought(all.clone(), money(lots, trials, ask.breaks)),
        savings: savings(trials, ask.breaks, possible_breaks(lots)),
        have: ask
            .have
            .iter()
            .map(|have| held(unit, lots, ask, trials, have))
            .collect(),
        thumb: THUMB.map(|percent| thumb(&all, net, percent)).to_vec(),
        runs: runs(job, lots, trials),
        stacks: Vec::new(),
        useless_below_length: useless.length.in_unit(unit),
        useless_below_width: useless.width.in_unit(unit),
    }
}

/// Board feet of all lots in each trial, the breaks allowed going where they save most.
fn totals(trials: &[Vec<Outcome>], breaks: usize) -> Vec<f64> {
    trials
        .iter()
        .map(|lots| {
            shared_out(lots, breaks)
                .iter()
                .zip(lots)
                .map(|(&b, lot)| lot.feet[b])
                .sum()
        })
        .collect()
}

/// How many of the breaks each lot gets so that the sum of feet is least; of equals, the first
/// lots get more.
fn shared_out(lots: &[Outcome], breaks: usize) -> Vec<usize> {
    // best[b]: least feet of the lots so far with b breaks, and the breaks of each.
    let mut best: Vec<(f64, Vec<usize>)> = vec![(0.0, Vec::new()); breaks + 1];
    for lot in lots {
        best = (0..=breaks)
            .map(|b| {
                let ways = (0..=b).map(|own| (best[b - own].0 + lot.feet[own], own));
                let (feet, own) = ways.fold((f64::INFINITY, 0), |least, way| {
                    if way.0 < least.0 { way } else { least }
                });
                let mut shares = best[b - own].1.clone();
                shares.push(own);
                (feet, shares)
            })
            .collect();
    }
    best.swap_remove(breaks).1
}

/// The price of what is bought in each trial, when every lot's price is known.
fn money(lots: &[Lot], trials: &[Vec<Outcome>], breaks: usize) -> Option<Vec<f64>> {
    let prices: Vec<f64> = lots
        .iter()
        .map(|lot| lot.on_sale.price)
        .collect::<Option<_>>()?;
    let price = |outcomes: &Vec<Outcome>| -> f64 {
        let shares = shared_out(outcomes, breaks);
        let lots = outcomes.iter().zip(&shares).zip(&prices);
        lots.map(|((lot, &b), &price)| worth(lot.feet[b], price))
            .sum()
    };
    Some(trials.iter().map(price).collect())
}

/// Feet without end cost without end, even given away.
fn worth(feet: f64, price: f64) -> f64 {
    if feet.is_finite() { feet * price } else { feet }
}

fn bought(feet: Vec<f64>, money: Option<Vec<f64>>) -> Bought {
    let feet = sorted(feet);
    let curve = (1..50).map(|half| {
        let percentile = Percentile::of(&feet, f64::from(2 * half));
        (percentile.percent, percentile.value)
    });
    Bought {
        curve: curve.collect(),
        money: money.map(percentiles),
        feet: percentiles(feet),
    }
}

fn percentiles(values: Vec<f64>) -> Vec<Percentile> {
    let sorted = sorted(values);
    TOLD.iter()
        .map(|&percent| Percentile::of(&sorted, percent))
        .collect()
}

fn sorted(mut values: Vec<f64>) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values
}

fn lot_need(job: &Job, lots: &[Lot], ask: &Ask, trials: &[Vec<Outcome>], index: usize) -> LotNeed {
    let settings = &job.settings;
    let lot = &lots[index];
    let feet = lot_feet(ask, trials, index);
    let price = lot.on_sale.price;
    let money = price.map(|price| feet.iter().map(|&feet| worth(feet, price)).collect());
    let mut boards: Vec<usize> = trials.iter().map(|lots| lots[index].boards).collect();
    boards.sort_unstable();
    LotNeed {
        thickness: words::thickness(lot.on_sale.thickness, settings.unit),
        // As it is written: per board foot or cubic metre.
        price: price.map(|price| price * settings.pricing.volumes(settings.unit)),
        fronts: lot.job.fronts.len(),
        forced_breaks: lot.forced,
        net: lot.net(),
        rough: lot.rough(),
        boards: boards[boards.len() / 2],
        need: bought(feet, money),
    }
}

fn lot_feet(ask: &Ask, trials: &[Vec<Outcome>], index: usize) -> Vec<f64> {
    let feet = |lots: &Vec<Outcome>| lots[index].feet[shared_out(lots, ask.breaks)[index]];
    trials.iter().map(feet).collect()
}

/// Spots in all runs where one could be broken, less those where one must be: more breaks are
/// impossible, and would save nothing.
fn possible_breaks(lots: &[Lot]) -> usize {
    let spots = |lot: &Lot| -> usize {
        let runs = lot.job.runs.iter();
        runs.map(|run| run.fronts.len().saturating_sub(1)).sum()
    };
    let left = |lot: &Lot| spots(lot).saturating_sub(lot.forced);
    lots.iter().map(left).sum()
}

fn savings(trials: &[Vec<Outcome>], breaks: usize, possible: usize) -> Vec<Saving> {
    let now = totals(trials, breaks);
    (breaks + 1..=(breaks + MORE_BREAKS).min(possible))
        .map(|breaks| {
            let then = totals(trials, breaks);
            let pairs = now.iter().zip(&then).filter(|(now, _)| now.is_finite());
            let (sum, count) = pairs.fold((0.0, 0), |(sum, count), (now, then)| {
                (sum + now - then, count + 1)
            });
            Saving {
                breaks,
                saved: sum / f64::from(count.max(1)),
                feet: percentiles(then),
            }
        })
        .collect()
}

fn held(unit: Unit, lots: &[Lot], ask: &Ask, trials: &[Vec<Outcome>], have: &Purchase) -> Held {
    let of_lot = |thickness| {
        lots.iter()
            .position(|lot| lot.on_sale.thickness == thickness)
    };
    let needs = match have.thickness {
        None => totals(trials, ask.breaks),
        Some(thickness) => match of_lot(thickness) {
            Some(index) => lot_feet(ask, trials, index),
            // Nothing is bought in a thickness no run needs, and nothing suffices.
            None => vec![0.0; trials.len()],
        },
    };
    Held {
        feet: have.feet,
        thickness: have.thickness.map(|it| words::thickness(it, unit)),
        chance: share_of(&needs, |need| need <= have.feet),
    }
}

fn thumb(needs: &[f64], net: f64, percent: f64) -> Thumb {
    let feet = net * (1.0 + percent / 100.0);
    Thumb {
        percent,
        feet,
        short: share_of(needs, |need| need > feet),
    }
}

fn share_of(needs: &[f64], test: impl Fn(f64) -> bool) -> Chance {
    Chance::of(
        needs.iter().filter(|&&need| test(need)).count(),
        needs.len(),
    )
}

fn runs(job: &Job, lots: &[Lot], trials: &[Vec<Outcome>]) -> Vec<RunNeed> {
    let mut runs: Vec<RunNeed> = lots
        .iter()
        .enumerate()
        .flat_map(|(index, lot)| {
            (0..lot.runs.len()).map(move |run| run_need(job, lot, trials, (index, run)))
        })
        .collect();
    runs.sort_by(|a, b| b.drives.total_cmp(&a.drives));
    runs
}

fn run_need(
    job: &Job,
    lot: &Lot,
    trials: &[Vec<Outcome>],
    (index, run): (usize, usize),
) -> RunNeed {
    let unit = job.settings.unit;
    let yard = &job.settings.yard;
    let least = need::whole(lot, run);
    let waits = trials
        .iter()
        .filter(|lots| lots[index].waiting[run])
        .count();
    let first_fit: Vec<f64> = trials
        .iter()
        .map(|lots| lots[index].first_fit[run])
        .collect();
    RunNeed {
        run: lot.job.runs[run].name.clone(),
        thickness: words::thickness(lot.on_sale.thickness, job.settings.unit),
        fronts: lot.job.runs[run].fronts.len(),
        rough: lot.rough_of(run),
        length: least.length.in_unit(unit),
        width: least.width.in_unit(unit),
        whole: least.length <= yard.length.most() && least.width <= yard.width.most(),
        front_length: need::longest_front(lot, run).length.in_unit(unit),
        drives: waits as f64 / trials.len() as f64,
        first_fit: percentiles(first_fit),
    }
}
