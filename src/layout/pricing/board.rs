//! Pricing: the patterns of one board that are worth more than the wood they use.
//!
//! Given a price for every front (and for every stave and inch of its width), a pattern's value
//! is the price of what it cuts less the cost of its wood. [`Tables`] bounds from above what any
//! completion of a half-made pattern can still be worth, by dynamic programs over lengths and
//! widths rounded down, in which a front may be cut twice in different strips; [`Area`](area::Area)
//! cuts each once and only asks whether there is area enough. [`explore`] then walks all real patterns,
//! leaving out only what a bound shows to be too poor, and what follows a half-made pattern that cuts the
//! same fronts as a better one before, which is known. So either the best pattern is found, or the bound
//! itself is returned: both are safe to build a proof on.
//! Patterns with staves that can never be wide enough together, whatever those they lack are cut from,
//! are in no plan, and left out ([`Completion`]).

use crate::layout::geometry::costs::Costs;
use crate::layout::model::completion::Completion;
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::explore::walk::{after_lane, explore};
use crate::layout::pricing::heights::heights;
use crate::layout::pricing::priced::{Limit, Priced};
use crate::layout::pricing::prices::Prices;
use crate::layout::pricing::tables::board::Tables;

/// Patterns of board kind `stock` worth more than `least`, as far as `limit` allows.
pub(in crate::layout) fn price(
    (problem, completion): (&Problem, &Completion),
    costs: &Costs,
    prices: &Prices,
    stock: usize,
    least: f64,
    limit: &Limit,
) -> Priced {
    // The tables of hundreds of boards take seconds.
    if (limit.stop)() {
        return Priced {
            found: Vec::new(),
            upper: UNKNOWN,
            complete: false,
        };
    }
    let kept = kept(problem, prices, stock);
    let mut floor = least.min(0.0) * MARGIN - saved(&problem.stock[stock]) - kept;
    loop {
        let priced = price_above(
            (problem, completion),
            costs,
            prices,
            stock,
            (least, floor),
            limit,
        );
        let most = priced.upper.max(0.0);
        if !priced.complete || least >= 0.0 || least - most - kept >= floor {
            return priced;
        }
        floor = (least - most * MARGIN - kept).min(floor * MARGIN);
    }
}

/// The same by looking only at items worth more than `floor`, and at patterns whose items worth less
/// than nothing are together worth more.
///
/// Without those items a pattern can be cut as well, and is worth as much more as they are worth less
/// than nothing. So where no pattern is worth more than `least - floor`, none of those left out is
/// worth more than `least`; and the best is never left out. A stave of each gluing the board is known to
/// give is not left out either: what they are worth less than nothing ([`kept`]) lies below `floor` too.
fn price_above(
    (problem, completion): (&Problem, &Completion),
    costs: &Costs,
    prices: &Prices,
    stock: usize,
    (least, floor): (f64, f64),
    limit: &Limit,
) -> Priced {
    let board = &problem.stock[stock];
    let fixed = board.whole - prices.place(stock);
    let heights = heights(problem, board, prices, floor);
    let tables = Tables::new((problem, stock), completion, prices, &heights, floor);
    let top = tables.best(&after_lane(problem, board, &tables)) - fixed;
    if top <= least {
        return Priced {
            found: Vec::new(),
            upper: top,
            complete: true,
        };
    }
    let explored = |least: f64| {
        let span = (least, floor);
        explore(
            (problem, stock),
            costs,
            prices,
            completion,
            &tables,
            span,
            limit,
            top,
        )
    };
    let mut priced = explored(least);
    // A list that is not complete is of no use, whatever the bound.
    if !priced.complete && limit.best_only {
        bisect_upper(&mut priced, least, limit.suffices, &explored);
    }
    priced
}

/// More than any board is worth.
const UNKNOWN: f64 = 1e30;

/// Once priced out no pattern is worth more than nothing, but for those only hoped for, and for
/// rounding: how much lower items are looked at from the start.
const MARGIN: f64 = 1.25;

/// What the staves that a board is known to give are worth less than nothing, at most.
fn kept(problem: &Problem, prices: &Prices, stock: usize) -> f64 {
    let board = &problem.stock[stock];
    let owed = |&(_, gluing): &(usize, usize)| {
        let item = problem.gluings[gluing].item;
        let widths =
            [problem.items[item].width, board.width].map(|wide| prices.width[gluing] * wide as f64);
        let tolls: f64 = prices.narrow_wide[gluing]
            .iter()
            .map(|pair| pair.toll)
            .sum();
        let price = prices.item[board.look][item] + widths[0].min(widths[1]);
        (board.moving(item) + tolls - price).max(0.0)
    };
    let here = problem.giving.iter().filter(|(of, _)| *of == stock);
    here.map(owed).sum()
}

/// Where neither end is kept an item may be cut for the sake of the edge beside it: without it that
/// edge is lost.
fn saved(stock: &Stock) -> f64 {
    match stock.ends {
        [false, false] => stock.kept_rate * stock.usable() as f64 * stock.width as f64,
        _ => 0.0,
    }
}

/// Brings `upper` down where not all patterns could be looked at: the higher the threshold, the
/// fewer half-made patterns can pass it, and a walk that ends has shown that none does. Where it is known
/// what `suffices`, that is tried once.
fn bisect_upper(
    priced: &mut Priced,
    least: f64,
    suffices: Option<f64>,
    walk: &dyn Fn(f64) -> Priced,
) {
    let mut low = priced.found.first().map_or(least, |best| best.value);
    if let Some(enough) = suffices {
        if enough <= low {
            return;
        }
        let higher = walk(enough);
        let best = higher.found.first().map(|found| found.value);
        if higher.complete {
            priced.upper = best.unwrap_or(enough);
        }
        priced.found.splice(0..0, higher.found);
        return;
    }
    for _ in 0..BISECTIONS {
        let middle = f64::midpoint(low, priced.upper);
        let higher = walk(middle);
        let best = higher.found.first().map(|found| found.value);
        if higher.complete {
            priced.upper = best.unwrap_or(middle);
        }
        low = best.unwrap_or(middle).max(low);
        priced.found.splice(0..0, higher.found);
        if priced.upper - low < CLOSE {
            return;
        }
    }
}

/// Walks to bring an upper bound down, and the difference in cost not worth another.
const BISECTIONS: usize = 6;
const CLOSE: f64 = 1e-3;
