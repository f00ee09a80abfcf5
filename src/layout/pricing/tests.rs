//! What pricing says a board is worth at most is tried on patterns found at other prices.

use crate::job::Job;
use crate::job::generate::{Size, generate};
use crate::layout::geometry::costs::Costs;
use crate::layout::geometry::placed::edge;
use crate::layout::model::completion::Completion;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::board::price;
use crate::layout::pricing::priced::{Limit, Priced, Valued};
use crate::layout::pricing::prices::Prices;
use crate::measure::Length;

/// Jobs the patterns are of.
const SIZE: Size = Size {
    fronts: 8,
    runs: 2,
    boards: 6,
};

/// A random job whose staves are ripped in such steps: with the eighths of most shops there are so many
/// widths that a list of all patterns takes minutes.
pub(in crate::layout) fn in_steps(inches: f64, size: Size, seed: u64) -> Job {
    let mut job = generate(size, seed);
    job.settings.glue.step = Length::from_inches(inches);
    job
}

/// Prices of `rate` for each board foot of staves of a gluing, and nothing for anything else.
fn prices(problem: &Problem, gluing: usize, rate: f64) -> Prices {
    let stock = &problem.stock[0];
    let foot = stock.whole / (stock.length as f64 * stock.width as f64);
    let mut width = vec![0.0; problem.gluings.len()];
    width[gluing] = problem.items[problem.gluings[gluing].item].length as f64 * foot * rate;
    Prices {
        item: vec![vec![0.0; problem.items.len()]; problem.looks.all.len()],
        width,
        narrow_wide: vec![Vec::new(); problem.gluings.len()],
        once: vec![Vec::new(); problem.stock.len()],
        rounding: Vec::new(),
        board: vec![0.0; problem.stock.len()],
        tone: vec![0.0; problem.stock.len()],
    }
}

fn priced(problem: &Problem, prices: &Prices, stock: usize, found: usize) -> Priced {
    let limit = Limit {
        nodes: 100_000,
        found,
        remembered: 1000,
        suffices: None,
        best_only: true,
        stop: &|| false,
    };
    let (completion, costs) = (Completion::of(problem), Costs::default());
    price((problem, &completion), &costs, prices, stock, 0.0, &limit)
}

#[test]
fn a_toll_paid_once_does_not_hide_patterns_of_several_staves() {
    let mut several = 0;
    for seed in 1..=2 {
        let job = in_steps(0.5, SIZE, seed);
        let problem = Problem::new(&job, false);
        for stock in 0..problem.stock.len() {
            for gluing in 0..problem.gluings.len() {
                let mut prices = prices(&problem, gluing, 1.8);
                let found = priced(&problem, &prices, stock, 20).found;
                // One that is only hoped for may turn out worth less.
                let Some(best) = found.into_iter().find(|valued| valued.sure) else {
                    continue;
                };
                several += usize::from(best.pattern.items().count() > 1);
                prices.once[stock] = vec![(gluing, best.value * 0.9)];
                let worth = prices.value(&problem, &best.pattern);
                let upper = priced(&problem, &prices, stock, 20).upper;
                assert!(
                    (best.value * 0.05..=upper + 1e-9).contains(&worth),
                    "seed {seed}, board {stock}, gluing {gluing}: {worth} over {upper}"
                );
            }
        }
    }
    assert!(several > 10, "{several}");
}

/// Width left beside the strips of a section, unless it is kept or no stave has a use for it: staves grow
/// by whole steps (rule 10d), so less than one may be left.
fn wasted(problem: &Problem, stock: &Stock, section: &[StripShape]) -> i64 {
    let cuts = &problem.cuts;
    let rips = cuts.rip * (section.len() as i64 - 1);
    let wide = section.iter().map(|strip| strip.width).sum::<i64>() + rips;
    let length = |strip: &StripShape| {
        let rooms = strip.items.iter().map(|&item| problem.items[item].room);
        rooms.sum::<i64>() + cuts.crosscut * (strip.items.len() as i64 - 1)
    };
    let long = section.iter().map(length).max().unwrap_or(0);
    let kept = edge(stock, cuts, wide, long) > 0;
    let widest = |strip: &StripShape| {
        let of = |&item: &usize| match problem.items[item].gluing {
            Some(gluing) => problem.gluings[gluing].widest.min(stock.widest[item]),
            None => 0,
        };
        strip.width >= strip.items.iter().map(of).max().unwrap_or(0)
    };
    if kept || section.iter().all(widest) {
        return 0;
    }
    let left = stock.width - 2 * stock.edge_loss(cuts, long) - wide;
    if left < cuts.glue_step { 0 } else { left }
}

#[test]
fn width_that_no_price_pays_for_is_not_left_beside_staves() {
    let mut several = 0;
    for seed in 1..=3 {
        let job = in_steps(0.5, SIZE, seed);
        let problem = Problem::new(&job, false);
        for index in 0..problem.stock.len() {
            let stock = &problem.stock[index];
            if !stock.zones.is_empty() {
                continue;
            }
            for gluing in 0..problem.gluings.len() {
                let mut prices = prices(&problem, gluing, 0.0);
                for tone in &mut prices.item {
                    tone[problem.gluings[gluing].item] = stock.whole;
                }
                let found = priced(&problem, &prices, index, 300).found;
                let strips = |pattern: &Pattern| -> Vec<usize> {
                    let sections = pattern.shape.iter();
                    sections.map(|section| section.len()).collect()
                };
                for Valued { pattern, .. } in found.iter().filter(|v| v.pattern.shape.len() == 1) {
                    let full = found.iter().any(|other| {
                        let widths =
                            |p: &Pattern| -> Vec<i64> { p.strips().map(|s| s.width).collect() };
                        let wider = widths(&other.pattern).into_iter().zip(widths(pattern));
                        strips(&other.pattern) == strips(pattern)
                            && wider.clone().all(|(there, here)| there >= here)
                            && wasted(&problem, stock, &other.pattern.shape[0]) == 0
                    });
                    assert!(
                        full,
                        "seed {seed}, board {index}, gluing {gluing}: {pattern:?}"
                    );
                    several += usize::from(strips(pattern)[0] > 1);
                }
            }
        }
    }
    assert!(several > 10, "{several}");
}
