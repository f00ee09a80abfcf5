//! What patterns are worth at a relaxation's prices, and the bound that follows.

use crate::layout::master::columns::Column;
use crate::layout::master::program::model::Extra;
use crate::layout::master::separate::tone_side::Cause;
use crate::layout::master::solved::Relaxed;
use crate::layout::model::problem::Problem;

/// A lower bound on the cost of every plan made of some patterns.
pub(in crate::layout) struct Bound {
    pub(in crate::layout) total: f64,
    /// Most that a board of each kind adds to what the prices are worth; zero at least where the
    /// board need not be used.
    pub(in crate::layout) best: Vec<f64>,
}

/// Price of what each pattern cuts less its wood and its share of the cuts.
pub(in crate::layout) fn values(
    problem: &Problem,
    columns: &[&Column],
    extra: Extra,
    relaxed: &Relaxed,
) -> Vec<f64> {
    let prices = relaxed.prices.per_wood(relaxed.wood);
    let subset_rows = paying(extra.subset_rows, &relaxed.paired);
    // What fronts pay is in the prices.
    let mut sides = paying(extra.sides, &relaxed.sided);
    sides.retain(|(side, _)| matches!(side.cause, Cause::Board(_)));
    let value = |column: &&Column| {
        let place = prices.board[column.pattern.stock];
        let paid = (prices.value(problem, &column.pattern) - place) * relaxed.wood;
        let pairs = subset_rows
            .iter()
            .filter(|(cut, _)| cut.pairs(problem, column));
        let held = sides
            .iter()
            .map(|(side, toll)| side.says(problem, column) * toll);
        let pairs = pairs.map(|(_, toll)| toll).sum::<f64>();
        paid - pairs - held.sum::<f64>()
    };
    columns.iter().map(value).collect()
}

/// Those that cost anything.
fn paying<'r, R>(rows: &'r [R], tolls: &[f64]) -> Vec<(&'r R, f64)> {
    let both = rows.iter().zip(tolls.iter().copied());
    both.filter(|(_, toll)| *toll > 0.0).collect()
}

/// Weak duality: the fixed part less the most every board can be worth; the boards in `full` must
/// be used.
pub(in crate::layout) fn bound(
    problem: &Problem,
    columns: &[&Column],
    values: &[f64],
    relaxed: &Relaxed,
    full: &[usize],
) -> Bound {
    let mut best = vec![0.0_f64; problem.stock.len()];
    full.iter()
        .for_each(|&board| best[board] = f64::NEG_INFINITY);
    for (column, &value) in columns.iter().zip(values) {
        let most = &mut best[column.pattern.stock];
        *most = most.max(value);
    }
    let boards = best.iter().zip(&problem.stock);
    let boards: f64 = boards.map(|(best, stock)| best * stock.count as f64).sum();
    Bound {
        total: relaxed.fixed - boards,
        best,
    }
}
