//! Strip widths worth considering on a board.

use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::prices::Prices;

/// Widths a strip may have, in order: a strip is as wide as its widest blank (rule 10c), so these are the
/// widths of the one-piece blanks and all widths that staves may have.
///
/// Items worth no more than `floor` are in no pattern that counts, see [`crate::layout::pricing::board::price_above`].
pub(in crate::layout) fn heights(
    problem: &Problem,
    stock: &Stock,
    prices: &Prices,
    floor: f64,
) -> Vec<i64> {
    let worth = |item: &usize| {
        let gluing = problem.items[*item].gluing;
        let gain = gluing.map_or(0.0, |gluing| prices.gain(gluing, stock.widest[*item]));
        let price = prices.of(problem, stock, *item, stock.width) + gain - stock.moving(*item);
        stock.widest[*item] > 0 && price > floor
    };
    let step = problem.cuts.glue_step;
    let mut heights = Vec::new();
    for item in (0..problem.items.len()).filter(worth) {
        match problem.items[item].gluing {
            None => heights.push(problem.items[item].width),
            Some(gluing) => {
                let of = &problem.gluings[gluing];
                let most = stock.widest[item].min(of.widest);
                heights.extend(of.widths(step, problem.items[item].width, most));
                heights.extend(stock.fulls.iter().filter(|&&full| full <= most));
            }
        }
    }
    heights.sort_unstable();
    heights.dedup();
    heights
}
