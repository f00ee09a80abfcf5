//! Strip widths worth considering on a board.

use super::super::problem::{Problem, Stock};
use super::Prices;

/// Widths closer than this are one: 1/64 in.
const SAME: i64 = 25_400_000 / 64;
/// Most widths for strips that hold only staves.
const MOST_STAVE_WIDTHS: usize = 48;

/// Widths a strip may have: those of the one-piece blanks, and where staves are worth something
/// the least width, an equal share of the front, what other strips leave over, and what a stave as
/// wide as another board leaves.
///
/// Items worth no more than `floor` are in no pattern that counts, see [`super::price_above`].
pub(super) fn heights(problem: &Problem, stock: &Stock, prices: &Prices, floor: f64) -> Vec<i64> {
    let worth = |item: &usize| {
        let price = prices.of(problem, stock, *item, stock.width) - stock.moving(*item);
        stock.widest[*item] > 0 && price > floor
    };
    let items: Vec<usize> = (0..problem.items.len()).filter(worth).collect();
    let mut whole: Vec<i64> = items
        .iter()
        .filter(|&&i| problem.items[i].mode.is_none())
        .map(|&i| problem.items[i].width)
        .collect();
    whole.sort_unstable();
    whole.dedup();
    let staves: Vec<usize> = items
        .into_iter()
        .filter(|&i| problem.items[i].mode.is_some())
        .collect();
    if staves.is_empty() {
        return whole;
    }
    let mut heights = stave_heights(problem, stock, &whole, &staves);
    if floor < 0.0 {
        // The best width of a stave by itself is among these already; its sisters may need another.
        let left = staves
            .iter()
            .flat_map(|&i| left_by_sisters(problem, stock, i));
        heights.extend(left);
    }
    heights.extend(whole);
    heights.sort_unstable();
    heights.dedup();
    heights
}

/// What the sisters of a stave leave of the width of their front when each takes the whole width of
/// another board.
fn left_by_sisters(problem: &Problem, stock: &Stock, item: usize) -> Vec<i64> {
    let mode = &problem.modes[problem.items[item].mode.unwrap_or(0)];
    let others = problem
        .stock
        .iter()
        .filter(|other| other.board != stock.board);
    let wide = others
        .map(|other| other.widest[item])
        .filter(|&wide| wide > 0);
    let left = wide.map(|wide| mode.total_width - (mode.staves as i64 - 1) * wide);
    let full = stock.width - 2 * stock.edge_loss(&problem.cuts, stock.usable());
    let may = problem.items[item].width..=full.min(stock.widest[item]);
    left.filter(|left| may.contains(left)).collect()
}

fn stave_heights(problem: &Problem, stock: &Stock, whole: &[i64], staves: &[usize]) -> Vec<i64> {
    let cuts = &problem.cuts;
    let least = problem.items[staves[0]].width;
    let loss = stock.edge_loss(cuts, stock.usable());
    let full = stock.width - 2 * loss;
    let mut bases = vec![full, stock.width - loss - cuts.rip - cuts.keep_width];
    for zone in &stock.zones {
        bases.push(zone.low - loss);
        bases.push(stock.width - loss - zone.high);
    }
    let widest = staves.iter().map(|&i| stock.widest[i]).max().unwrap_or(0);
    let mut heights = vec![least, widest.min(full)];
    heights.extend(staves.iter().map(|&i| {
        let mode = &problem.modes[problem.items[i].mode.unwrap_or(0)];
        (mode.total_width + mode.staves as i64 - 1) / mode.staves as i64
    }));
    for &base in &bases {
        heights.push(base);
        heights.extend(whole.iter().chain([&least]).map(|w| base - w - cuts.rip));
    }
    heights.retain(|&h| h >= least && h <= full.min(widest));
    heights.sort_unstable();
    heights.dedup_by(|b, a| *b - *a < SAME);
    while heights.len() > MOST_STAVE_WIDTHS {
        let mut nth = 0;
        heights.retain(|_| {
            nth += 1;
            nth % 2 == 1
        });
    }
    heights
}
