//! What the master program pays for what a pattern cuts: its duals, spread over the items.

use crate::layout::model::pattern::{Pattern, staves_of};
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::rounding_cut::Givers;

/// What the master program pays for items, by tone of the board they come from.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Prices {
    /// Price of item `i` on a board of look `l`: `item[l][i]`; for a stave, without its width.
    pub(in crate::layout) item: Vec<Vec<f64>>,
    /// Price of a nanometre of stave width of each mode.
    pub(in crate::layout) width: Vec<f64>,
    /// What staves of each mode pay for sisters and are paid for being one; the narrowest first.
    pub(in crate::layout) sisters: Vec<Vec<Sister>>,
    /// By kind of board: what it pays once for staves of a mode, however many; in order.
    pub(in crate::layout) once: Vec<Vec<(usize, f64)>>,
    /// What patterns get for each unit of staves they give.
    pub(in crate::layout) givers: Vec<(Givers, f64)>,
    /// Price of using one board of each kind: zero or less.
    pub(in crate::layout) board: Vec<f64>,
    /// Price of the tone that a board of each kind brings into the case: zero or less.
    pub(in crate::layout) tone: Vec<f64>,
}

/// What narrow staves of a mode pay for a wide sister, and wide ones get.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct Sister {
    /// Staves no wider pay.
    pub(in crate::layout) narrow: i64,
    pub(in crate::layout) toll: f64,
    /// Staves no narrower get.
    pub(in crate::layout) wide: i64,
    pub(in crate::layout) gain: f64,
}

impl Sister {
    /// What a stave gets of all `sisters`, less what it pays.
    pub(in crate::layout) fn of(sisters: &[Sister], width: i64) -> f64 {
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
    pub(in crate::layout) fn share(self, share: f64) -> Sister {
        Sister {
            toll: self.toll * share,
            gain: self.gain * share,
            ..self
        }
    }
}

impl Prices {
    /// The same prices where a unit of wood counts `wood`: values come out as many times smaller.
    pub(in crate::layout) fn per_wood(&self, wood: f64) -> Prices {
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
    pub(in crate::layout) fn place(&self, stock: usize) -> f64 {
        self.board[stock] + self.tone[stock]
    }

    /// Price of one item in a strip `strip` wide.
    pub(in crate::layout) fn of(
        &self,
        problem: &Problem,
        stock: &Stock,
        item: usize,
        strip: i64,
    ) -> f64 {
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
    pub(in crate::layout) fn value(&self, problem: &Problem, pattern: &Pattern) -> f64 {
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
    pub(in crate::layout) fn given(&self, problem: &Problem, pattern: &Pattern) -> f64 {
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
    pub(in crate::layout) fn gain(&self, mode: usize, wide: i64) -> f64 {
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
    pub(in crate::layout) fn toll(&self, stock: usize, mode: usize) -> f64 {
        let mut once = self.once[stock].iter();
        once.find(|one| one.0 == mode)
            .map_or(0.0, |(_, toll)| *toll)
    }
}
