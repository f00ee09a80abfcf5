//! Strip widths worth considering on a board.

use super::super::problem::{Problem, Stock};
use super::Prices;

/// Widths closer than this are one: 1/64 in.
const SAME: i64 = 25_400_000 / 64;
/// Most widths for strips that hold only staves.
const MOST_STAVE_WIDTHS: usize = 48;

/// A width a strip may have.
#[derive(Clone, Copy, Debug)]
pub(super) struct Height {
    pub(super) wide: i64,
    /// Whether it is only of use to a stave whose sisters take the whole width of another board:
    /// one of a front's staves at most.
    pub(super) left: bool,
}

/// Widths a strip may have: those of the one-piece blanks, and where staves are worth something
/// the least width, an equal share of the front, what other strips leave over, and what a stave as
/// wide as another board leaves.
///
/// Items worth no more than `floor` are in no pattern that counts, see [`super::price_above`].
pub(super) fn heights(
    problem: &Problem,
    stock: &Stock,
    prices: &Prices,
    floor: f64,
) -> Vec<Height> {
    let worth = |item: &usize| {
        let mode = problem.items[*item].mode;
        let gain = mode.map_or(0.0, |mode| prices.gain(mode, stock.widest[*item]));
        let price = prices.of(problem, stock, *item, stock.width) + gain - stock.moving(*item);
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
    let mut own = whole.clone();
    let mut left = Vec::new();
    if !staves.is_empty() {
        own.extend(stave_heights(problem, stock, &whole, &staves));
        own.extend(sister_heights(problem, stock, prices, &staves));
        own.sort_unstable();
        own.dedup();
        // The best width of a stave by itself is among these already; where plans are sought among
        // all patterns that may be in one, its sisters may need another.
        left = left_by_sisters(problem, stock, &staves);
        if floor >= 0.0 {
            left = just_wider(problem, prices, &staves, &left);
        }
        left.retain(|wide| own.binary_search(wide).is_err());
    }
    let at = |left: bool| move |wide: i64| Height { wide, left };
    let left = left.into_iter().map(at(true));
    let mut heights: Vec<Height> = own.into_iter().map(at(false)).chain(left).collect();
    heights.sort_unstable_by_key(|height| height.wide);
    heights
}

/// Widths at which staves are paid for being the sister of a narrow one.
fn sister_heights(problem: &Problem, stock: &Stock, prices: &Prices, staves: &[usize]) -> Vec<i64> {
    let full = stock.width - 2 * stock.edge_loss(&problem.cuts, stock.usable());
    let paid = |&item: &usize| {
        let sisters = problem.items[item].mode.map(|mode| &prices.sisters[mode]);
        let wide = sisters.into_iter().flatten().map(|sister| sister.wide);
        wide.filter(move |&wide| wide <= full.min(stock.widest[item]))
    };
    staves.iter().flat_map(paid).collect()
}

/// Of the widths in `left`, the least that need not pay for a sister: between two widths at which
/// prices jump, one in the middle is never better than both.
fn just_wider(problem: &Problem, prices: &Prices, staves: &[usize], left: &[i64]) -> Vec<i64> {
    let modes = staves.iter().filter_map(|&item| problem.items[item].mode);
    let narrow = modes.flat_map(|mode| prices.sisters[mode].iter().map(|sister| sister.narrow));
    let wider = |narrow: i64| {
        left.iter()
            .copied()
            .filter(move |&wide| wide > narrow)
            .min()
    };
    let mut wider: Vec<i64> = narrow.filter_map(wider).collect();
    wider.sort_unstable();
    wider.dedup();
    wider
}

/// What the sisters of a stave leave of the width of their front when each takes the whole width of
/// another board.
fn left_by_sisters(problem: &Problem, stock: &Stock, staves: &[usize]) -> Vec<i64> {
    let full = stock.width - 2 * stock.edge_loss(&problem.cuts, stock.usable());
    let left_of = |&item: &usize| {
        let mode = &problem.modes[problem.items[item].mode.unwrap_or(0)];
        let may = problem.items[item].width..=full.min(stock.widest[item]);
        let others = problem.stock.iter().filter(|s| s.board != stock.board);
        let others = others
            .map(|other| other.widest[item])
            .filter(|&wide| wide > 0);
        let left = others.map(|wide| mode.total_width - (mode.staves as i64 - 1) * wide);
        left.filter(|left| may.contains(left)).collect::<Vec<i64>>()
    };
    let mut left: Vec<i64> = staves.iter().flat_map(left_of).collect();
    // Of those that are as good as one, the widest does for all.
    left.sort_unstable_by(|a, b| b.cmp(a));
    left.dedup_by(|b, a| *a - *b < SAME);
    left
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
