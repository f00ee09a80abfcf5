//! Plans made from a solution of the relaxation.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::ruin::Ruin;
use crate::layout::heuristics::state::{State, without};
use crate::layout::master::columns::Columns;
use crate::layout::master::solved::Solved;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::Shape;

/// Rounds of ruin and recreate for each plan, and how much worse than the best it may go on from.
const ROUNDS: u32 = 60;
const HEAT: f64 = 1.0;

/// A plan that follows the solution: patterns are taken at random, each the likelier the larger its
/// share, as long as they do not cut what is cut already; the rest is put where it costs least.
/// Stretches begun to be glued are taken out again.
pub(in crate::layout) fn round(
    problem: &Problem,
    costs: &Costs,
    columns: &Columns,
    solved: &Solved,
    seed: u64,
) -> State {
    let mut rng = Pcg64::seed_from_u64(seed);
    let mut order: Vec<(f64, usize)> = solved
        .shares
        .iter()
        .enumerate()
        .filter(|(_, share)| **share > LEAST)
        // Smallest first of exponential waiting times: a draw without putting back.
        .map(|(place, share)| {
            (
                -rng.random_range(f64::MIN_POSITIVE..1.0).ln() / share,
                place,
            )
        })
        .collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let known = columns.all();
    // Fronts still to be cut, identical fronts by the first of their kind.
    let mut open: Vec<usize> = (0..problem.chain.len())
        .map(|row| problem.identical.count(row))
        .collect();
    let mut left: Vec<usize> = problem.stock.iter().map(|stock| stock.count).collect();
    let mut patterns = Vec::new();
    for (_, place) in order {
        let Some(pattern) = one_piece(problem, costs, known[place].pattern.clone()) else {
            continue;
        };
        if left[pattern.stock] > 0
            && let Some(less) = without_rows(problem, &pattern, &open)
        {
            left[pattern.stock] -= 1;
            open = less;
            patterns.push(pattern);
        }
    }
    let patterns = problem.identical.told_apart(problem, patterns);
    let state = State::of(problem, patterns);
    let mut ruin = Ruin::from(problem, costs, state, seed);
    for round in 0..ROUNDS {
        ruin.round(HEAT * (1.0 - f64::from(round) / f64::from(ROUNDS)));
    }
    ruin.best
}

/// Fronts still to be cut after the pattern; nothing when it cuts some once too often.
fn without_rows(problem: &Problem, pattern: &Pattern, open: &[usize]) -> Option<Vec<usize>> {
    let mut open = open.to_vec();
    for row in pattern
        .items()
        .flat_map(|item| problem.items[item].rows.clone())
    {
        open[row] = open[row].checked_sub(1)?;
    }
    Some(open)
}

/// Smaller shares are left out.
const LEAST: f64 = 0.01;

/// The pattern without its staves; nothing when that is all there is to it.
fn one_piece(problem: &Problem, costs: &Costs, pattern: Pattern) -> Option<Pattern> {
    let staves: Vec<usize> = pattern
        .items()
        .filter(|&item| problem.items[item].gluing.is_some())
        .collect();
    if staves.is_empty() {
        return Some(pattern);
    }
    let stock = pattern.stock;
    let without = |shape: Shape, item: &usize| without(problem, stock, &shape, *item);
    let shape = staves.iter().fold(pattern.shape, without);
    if shape.is_empty() {
        return None;
    }
    let wood = costs.wood(problem, stock, &shape)?;
    Some(Pattern { stock, shape, wood })
}
