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
//! are in no plan, and left out ([`Sisters`]).

mod area;
mod explore;
mod heights;
#[cfg(test)]
mod list_tests;
mod tables;
#[cfg(test)]
mod tests;

use super::givers::Givers;
use super::pattern::{Costs, Pattern, staves_of};
use super::place::StripShape;
use super::problem::{Problem, Stock};
use super::sisters::Sisters;

pub(super) use explore::Limit;
use explore::{after_lane, explore};
use heights::heights;
use tables::Tables;

/// What the master program pays for items, by tone of the board they come from.
#[derive(Clone, Debug)]
pub(super) struct Prices {
    /// Price of item `i` on a board of look `l`: `item[l][i]`; for a stave, without its width.
    pub(super) item: Vec<Vec<f64>>,
    /// Price of a nanometre of stave width of each mode.
    pub(super) width: Vec<f64>,
    /// What staves of each mode pay for sisters and are paid for being one; the narrowest first.
    pub(super) sisters: Vec<Vec<Sister>>,
    /// By kind of board: what it pays once for staves of a mode, however many; in order.
    pub(super) once: Vec<Vec<(usize, f64)>>,
    /// What patterns get for each unit of staves they give.
    pub(super) givers: Vec<(Givers, f64)>,
    /// Price of using one board of each kind: zero or less.
    pub(super) board: Vec<f64>,
    /// Price of the tone that a board of each kind brings into the case: zero or less.
    pub(super) tone: Vec<f64>,
}

/// What narrow staves of a mode pay for a wide sister, and wide ones get.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sister {
    /// Staves no wider pay.
    pub(super) narrow: i64,
    pub(super) toll: f64,
    /// Staves no narrower get.
    pub(super) wide: i64,
    pub(super) gain: f64,
}

impl Sister {
    /// What a stave gets of all `sisters`, less what it pays.
    fn of(sisters: &[Sister], width: i64) -> f64 {
        let gain = |sister: &Sister| {
            let toll = if width <= sister.narrow {
                sister.toll
            } else {
                0.0
            };
            let gain = if width >= sister.wide {
                sister.gain
            } else {
                0.0
            };
            gain - toll
        };
        sisters.iter().map(gain).sum()
    }

    /// The same where everything counts `share`.
    pub(super) fn share(self, share: f64) -> Sister {
        Sister {
            toll: self.toll * share,
            gain: self.gain * share,
            ..self
        }
    }
}

/// A pattern and its value: prices less the cost of the wood and of the board's place.
#[derive(Clone, Debug)]
pub(super) struct Valued {
    pub(super) pattern: Pattern,
    pub(super) value: f64,
    /// Whether it can be cut just so; else it is worth at most this much, see [`explore`].
    pub(super) sure: bool,
}

/// What pricing one kind of board found.
pub(super) struct Priced {
    /// Patterns worth more than the threshold, best first.
    pub(super) found: Vec<Valued>,
    /// No pattern of this kind is worth more than this (or than the threshold).
    pub(super) upper: f64,
    /// Whether every pattern above the threshold has been found.
    pub(super) complete: bool,
}

impl Prices {
    /// The same prices where a unit of wood counts `wood`: values come out as many times smaller.
    pub(super) fn per_wood(&self, wood: f64) -> Prices {
        let less = |prices: &[f64]| prices.iter().map(|p| p / wood).collect();
        Prices {
            item: self.item.iter().map(|tone| less(tone)).collect(),
            width: less(&self.width),
            sisters: self
                .sisters
                .iter()
                .map(|of| of.iter().map(|s| s.share(1.0 / wood)).collect())
                .collect(),
            once: (self.once.iter())
                .map(|of| of.iter().map(|&(mode, toll)| (mode, toll / wood)).collect())
                .collect(),
            givers: (self.givers.iter())
                .map(|(givers, gain)| (givers.clone(), gain / wood))
                .collect(),
            board: less(&self.board),
            tone: less(&self.tone),
        }
    }

    /// Price of using a board of kind `stock`, whatever is cut from it.
    pub(super) fn place(&self, stock: usize) -> f64 {
        self.board[stock] + self.tone[stock]
    }

    /// Price of one item in a strip `strip` wide.
    pub(super) fn of(&self, problem: &Problem, stock: &Stock, item: usize, strip: i64) -> f64 {
        let base = self.item[stock.look][item];
        match problem.items[item].mode {
            None => base,
            Some(mode) => {
                let width = problem.blank_width(stock, item, strip);
                base + self.width[mode] * width as f64 + Sister::of(&self.sisters[mode], width)
            }
        }
    }

    /// Value of a pattern.
    pub(super) fn value(&self, problem: &Problem, pattern: &Pattern) -> f64 {
        let stock = &problem.stock[pattern.stock];
        let price = |strip: &StripShape, place: usize| {
            let wide = strip.blank_width(problem, stock, place);
            self.of(problem, stock, strip.items[place], wide)
        };
        let paid: f64 = pattern
            .strips()
            .flat_map(|strip| (0..strip.items.len()).map(move |place| price(strip, place)))
            .sum();
        let paid = paid + self.given(problem, pattern) - self.tolls(problem, pattern);
        paid - pattern.wood + self.place(pattern.stock)
    }

    /// What a pattern gets for the staves it gives.
    fn given(&self, problem: &Problem, pattern: &Pattern) -> f64 {
        if self.givers.is_empty() {
            return 0.0;
        }
        let staves = staves_of(problem, pattern.stock, &pattern.shape);
        let staves: Vec<(usize, i64)> = staves.collect();
        let each = self.givers.iter();
        each.map(|(givers, gain)| gain * givers.given(staves.iter().copied()) as f64)
            .sum()
    }

    /// What one stave of a mode, `wide` at most, gets where it is alone on the board: with others, no more.
    fn gain(&self, mode: usize, wide: i64) -> f64 {
        let of = self.givers.iter().filter(|(givers, _)| givers.has(mode));
        of.map(|(givers, gain)| gain * givers.units(wide) as f64)
            .sum()
    }

    /// What a pattern pays once for the modes it has staves of.
    fn tolls(&self, problem: &Problem, pattern: &Pattern) -> f64 {
        if self.once[pattern.stock].is_empty() {
            return 0.0;
        }
        let mut modes: Vec<usize> = pattern
            .items()
            .filter_map(|item| problem.items[item].mode)
            .collect();
        modes.sort_unstable();
        modes.dedup();
        let toll = |&mode: &usize| self.toll(pattern.stock, mode);
        modes.iter().map(toll).sum()
    }

    /// What a board of kind `stock` pays once for staves of a mode.
    fn toll(&self, stock: usize, mode: usize) -> f64 {
        let mut once = self.once[stock].iter();
        once.find(|one| one.0 == mode)
            .map_or(0.0, |(_, toll)| *toll)
    }
}

/// Patterns of board kind `stock` worth more than `least`, as far as `limit` allows.
pub(super) fn price(
    (problem, sisters): (&Problem, &Sisters),
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
            (problem, sisters),
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
/// worth more than `least`; and the best is never left out. A stave of each mode the board is known to
/// give is not left out either: what they are worth less than nothing ([`kept`]) lies below `floor` too.
fn price_above(
    (problem, sisters): (&Problem, &Sisters),
    costs: &Costs,
    prices: &Prices,
    stock: usize,
    (least, floor): (f64, f64),
    limit: &Limit,
) -> Priced {
    let board = &problem.stock[stock];
    let fixed = board.whole - prices.place(stock);
    let heights = heights(problem, board, prices, floor);
    let tables = Tables::new((problem, stock), sisters, prices, &heights, floor);
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
            sisters,
            &tables,
            span,
            limit,
            top,
        )
    };
    let mut priced = explored(least);
    // A list that is not complete is of no use, whatever the bound.
    if !priced.complete && limit.best_only {
        squeeze(&mut priced, least, limit.suffices, &explored);
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
    let owed = |&(_, mode): &(usize, usize)| {
        let item = problem.modes[mode].item;
        let widths =
            [problem.items[item].width, board.width].map(|wide| prices.width[mode] * wide as f64);
        let tolls: f64 = prices.sisters[mode].iter().map(|sister| sister.toll).sum();
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
fn squeeze(priced: &mut Priced, least: f64, suffices: Option<f64>, walk: &dyn Fn(f64) -> Priced) {
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
    for _ in 0..SQUEEZES {
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
const SQUEEZES: usize = 6;
const CLOSE: f64 = 1e-3;
