//! That a relaxation comes to an end with the rows it looks for.

use crate::job::generate::{Size, generate};
use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::ruin::Ruin;
use crate::layout::master::columns::Columns;
use crate::layout::master::relax::Relaxation;
use crate::layout::model::completion::Completion;
use crate::layout::model::problem::Problem;
use crate::layout::pricing::board::price;
use crate::layout::pricing::priced::Limit;

const SIZE: Size = Size {
    fronts: 9,
    runs: 3,
    boards: 6,
};
/// Rounds of pricing, and solutions over the patterns found.
const ROUNDS: usize = 60;
const SOLUTIONS: usize = 60;

/// The patterns that some rounds of pricing find, and the relaxation over them.
fn priced(problem: &Problem) -> (Columns, Relaxation) {
    let (costs, completion) = (Costs::default(), Completion::of(problem));
    let mut ruin = Ruin::new(problem, &costs, 0);
    let (mut columns, mut relaxation) = (Columns::default(), Relaxation::new(problem));
    for _ in 0..20 {
        ruin.round(1.0);
        for pattern in &ruin.now.boards {
            columns.add(problem, pattern);
        }
    }
    let limit = Limit {
        nodes: 20_000,
        found: 12,
        remembered: 100_000,
        suffices: None,
        best_only: true,
        stop: &|| false,
    };
    for _ in 0..ROUNDS {
        let solved = relaxation.solve_sided(problem, &columns.all(), 1e-6);
        let prices = solved.expect("no time was set").relaxed.prices;
        let mut new = 0;
        for stock in 0..problem.stock.len() {
            let priced = price((problem, &completion), &costs, &prices, stock, 1e-7, &limit);
            let sure = priced.found.iter().filter(|valued| valued.sure);
            new += sure.filter(|v| columns.add(problem, &v.pattern)).count();
        }
        if new == 0 {
            break;
        }
    }
    (columns, relaxation)
}

#[test]
fn over_the_same_patterns_no_row_comes_and_goes_for_ever() {
    for seed in 10..=14 {
        let job = generate(SIZE, seed);
        let problem = Problem::new(&job, false);
        let (columns, mut relaxation) = priced(&problem);
        let mut tight = || {
            let solved = relaxation.solve_sided(&problem, &columns.all(), 1e-8);
            solved.expect("no time was set").relaxed.tight
        };
        let tight: Vec<bool> = (0..SOLUTIONS).map(|_| tight()).collect();
        let last = &tight[SOLUTIONS / 2..];
        assert!(last.iter().all(|tight| *tight), "seed {seed}: {tight:?}");
    }
}
