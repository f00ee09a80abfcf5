//! One trial: boards of a lot bought one by one until they suffice.

use super::Watch;
use super::lot::Lot;
use super::pile::Pile;
use crate::job::{Board, Job, Yard};
use crate::layout::{self, Bought, Effort};
use crate::measure::{BoardFeet, Length, Tally, Unit};
use crate::milling;

/// Ruin-and-recreate rounds after each board bought. More find a plan a board earlier now and
/// then, and take as much longer.
const ROUNDS: usize = 24;

/// A trial gives up when so many times the blanks' own feet are bought without an end.
const MOST_TIMES: f64 = 12.0;

/// What one trial of one lot came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Board feet bought, as the trade tallies them, or litres, when none, one, ... breaks beyond the forced
    /// ones are allowed; infinite when the trial came to no end.
    pub feet: Vec<f64>,
    /// Boards bought for the most whole plan.
    pub boards: usize,
    /// For each run of the lot, the board feet bought when the first board came that alone
    /// takes the run whole.
    pub first_fit: Vec<f64>,
    /// For each run of the lot, whether it was not yet whole before the last board.
    pub waiting: Vec<bool>,
}

/// Buys boards for `lot` until every front is made without a break that could be spared.
///
/// The boards come in the pile's own order, so the feet are exact for the pile: no grid of
/// guesses lies between. What the heuristic finds for fewer boards it keeps for more, so to buy
/// more never harms; a better planner might stop a board earlier. `most` is the most breaks
/// looked at. Nothing when it was stopped before its end.
pub fn trial(
    lot: &Lot,
    yard: &Yard,
    most: usize,
    (seed, trial): (u64, u64),
    watch: &dyn Watch,
) -> Option<Outcome> {
    let mut pile =
        Pile::new(yard, lot.on_sale.thickness, seed, trial).measured_in(lot.job.settings.unit);
    let mut job = lot.job.clone();
    let wanted = lot.rough();
    let first = start(&mut job, &mut pile);
    let mut count = first;
    loop {
        count += count.max(6);
        while job.boards.len() < count {
            job.boards.push(pile.board());
        }
        let outcome = buy(lot, &job, first, most, seed ^ trial, watch);
        let feet: f64 = job.boards.iter().map(|b| job.volume_of(b).value()).sum();
        if outcome.feet[0].is_finite() {
            return Some(outcome);
        }
        if watch.stop() {
            return None;
        }
        if feet > MOST_TIMES * wanted {
            return Some(outcome);
        }
    }
}

/// Buys as many boards as hold less wood between their trims than the blanks take: no plan can
/// do with fewer. One board less is where trials begin, to see which runs wait for the last one.
fn start(job: &mut Job, pile: &mut Pile) -> usize {
    let allowances = job.settings.allowances.clone();
    let area =
        |long: Length, wide: Length| long.at_least_zero().inches() * wide.at_least_zero().inches();
    let blanks: f64 = job
        .fronts
        .iter()
        .map(|f| {
            area(
                milling::blank_length(f, &allowances),
                milling::blank_width(f, &allowances),
            )
        })
        .sum();
    let usable = |b: &Board| {
        area(
            b.clear_length(&allowances),
            b.width - allowances.edge_trim * 2,
        )
    };
    let mut have = 0.0;
    while have < blanks * (1.0 - 1e-9) {
        let board = pile.board();
        // A board that gives nothing must not keep the pile from ever ending.
        have += usable(&board).max(1.0);
        job.boards.push(board);
    }
    job.boards.len()
}

fn buy(lot: &Lot, job: &Job, first: usize, most: usize, seed: u64, watch: &dyn Watch) -> Outcome {
    let tallied = tally(job);
    let mut feet = vec![f64::INFINITY; most + 1];
    let mut waiting = vec![true; job.runs.len()];
    let mut before = None;
    let mut last = None;
    let effort = Effort {
        first: first.saturating_sub(1).max(1),
        rounds: ROUNDS,
        most_breaks: lot.forced + most,
        seed,
    };
    layout::buy(job, effort, &|| watch.stop(), |bought: Bought| {
        if bought.missing == 0 {
            for (allowed, feet) in feet.iter_mut().enumerate() {
                if bought.breaks <= lot.forced + allowed && feet.is_infinite() {
                    *feet = tallied[bought.boards - 1];
                }
            }
        }
        before = last.replace(bought);
        feet[0].is_finite()
    });
    if let (Some(before), true) = (&before, feet[0].is_finite()) {
        for (run, waiting) in waiting.iter_mut().enumerate() {
            *waiting = before.wanting.contains(&run);
        }
    }
    let last = last.unwrap_or_default();
    let at = |board: &Option<usize>| board.map_or(f64::INFINITY, |index| tallied[index]);
    Outcome {
        feet,
        boards: last.boards,
        first_fit: last.first_fit.iter().map(at).collect(),
        waiting,
    }
}

/// What the first one, two, ... boards are bought as. Board feet: surface measures summed, times
/// the thickness, to the nearest whole foot, as a bundle of one thickness is tallied. Litres: what
/// is there.
pub fn tally(job: &Job) -> Vec<f64> {
    match job.settings.unit {
        Unit::Inch => in_board_feet(&job.boards),
        Unit::Mm => in_litres(job),
    }
}

fn in_litres(job: &Job) -> Vec<f64> {
    let mut sum = 0.0;
    let boards = job.boards.iter();
    boards
        .map(|board| {
            sum += job.volume_of(board).value();
            sum
        })
        .collect()
}

fn in_board_feet(boards: &[Board]) -> Vec<f64> {
    let mut tally = Tally::new();
    let mut sum = 0;
    boards
        .iter()
        .map(|board| {
            sum += tally.surface(board.length, board.width).feet;
            BoardFeet::of_surface(sum, board.thickness).value().round()
        })
        .collect()
}
