//! What pricing says a board is worth at most is tried on patterns found at other prices.

use super::*;
use crate::job::generate::{Size, generate};

/// Prices of `rate` for each board foot of staves of a mode, and nothing for anything else.
fn prices(problem: &Problem, mode: usize, rate: f64) -> Prices {
    let stock = &problem.stock[0];
    let foot = stock.whole / (stock.length as f64 * stock.width as f64);
    let mut width = vec![0.0; problem.modes.len()];
    width[mode] = problem.items[problem.modes[mode].item].length as f64 * foot * rate;
    Prices {
        item: vec![vec![0.0; problem.items.len()]; problem.tones.len()],
        width,
        sisters: vec![Vec::new(); problem.modes.len()],
        once: vec![Vec::new(); problem.stock.len()],
        board: vec![0.0; problem.stock.len()],
        tone: vec![0.0; problem.stock.len()],
    }
}

fn priced(problem: &Problem, prices: &Prices, stock: usize) -> Priced {
    let limit = Limit {
        nodes: 100_000,
        found: 20,
        best_only: true,
        stop: &|| false,
    };
    let (sisters, costs) = (Sisters::of(problem), Costs::default());
    price((problem, &sisters), &costs, prices, stock, 0.0, &limit)
}

#[test]
fn a_toll_paid_once_does_not_hide_patterns_of_several_staves() {
    let size = Size {
        fronts: 8,
        runs: 2,
        boards: 6,
    };
    let mut several = 0;
    for seed in 1..=5 {
        let job = generate(size, seed);
        let problem = Problem::new(&job, false);
        for stock in 0..problem.stock.len() {
            for mode in 0..problem.modes.len() {
                let mut prices = prices(&problem, mode, 1.8);
                let Some(best) = priced(&problem, &prices, stock).found.into_iter().next() else {
                    continue;
                };
                several += usize::from(best.pattern.items().count() > 1);
                prices.once[stock] = vec![(mode, best.value * 0.9)];
                let worth = prices.value(&problem, &best.pattern);
                let upper = priced(&problem, &prices, stock).upper;
                assert!(
                    (best.value * 0.05..=upper + 1e-9).contains(&worth),
                    "seed {seed}, board {stock}, mode {mode}: {worth} over {upper}"
                );
            }
        }
    }
    assert!(several > 10, "{several}");
}
