//! What the master program pays for what a pattern cuts: its duals, spread over the items.

use crate::layout::model::pattern::{Pattern, staves_of};
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::rounding_cut::RoundingCut;

/// What the master program pays for items, by tone of the board they come from.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Prices {
    /// Price of item `i` on a board of look `l`: `item[l][i]`; for a stave, without its width.
    pub(in crate::layout) item: Vec<Vec<f64>>,
    /// Price of a nanometre of stave width of each gluing.
    pub(in crate::layout) width: Vec<f64>,
    /// What staves of each gluing pay for a wide one beside them and are paid for being it; the narrowest first.
    pub(in crate::layout) narrow_wide: Vec<Vec<NarrowWide>>,
    /// By kind of board: what it pays once for staves of a gluing, however many; in order.
    pub(in crate::layout) once: Vec<Vec<(usize, f64)>>,
    /// What patterns get for each unit of staves they give.
    pub(in crate::layout) rounding: Vec<(RoundingCut, f64)>,
    /// Price of using one board of each kind: zero or less.
    pub(in crate::layout) board: Vec<f64>,
    /// Price of the tone that a board of each kind brings into the case: zero or less.
    pub(in crate::layout) tone: Vec<f64>,
}

/// What narrow staves of a gluing pay for a wide one, and wide ones get.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct NarrowWide {
    /// Staves no wider pay.
    pub(in crate::layout) narrow: i64,
    pub(in crate::layout) toll: f64,
    /// Staves no narrower get.
    pub(in crate::layout) wide: i64,
    pub(in crate::layout) gain: f64,
}

impl NarrowWide {
    /// What a stave gets of all `pairs`, less what it pays.
    pub(in crate::layout) fn of(narrow_wide: &[NarrowWide], width: i64) -> f64 {
        let gain = |pair: &NarrowWide| {
            let toll = if width <= pair.narrow { pair.toll } else { 0.0 };
            let gain = if width >= pair.wide { pair.gain } else { 0.0 };
            gain - toll
        };
        narrow_wide.iter().map(gain).sum()
    }

    /// The same where everything counts `share`.
    pub(in crate::layout) fn share(self, share: f64) -> NarrowWide {
        NarrowWide {
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
            narrow_wide: self
                .narrow_wide
                .iter()
                .map(|of| of.iter().map(|s| s.share(1.0 / wood)).collect())
                .collect(),
            once: (self.once.iter())
                .map(|of| {
                    of.iter()
                        .map(|&(gluing, toll)| (gluing, toll / wood))
                        .collect()
                })
                .collect(),
            rounding: (self.rounding.iter())
                .map(|(rounding, gain)| (rounding.clone(), gain / wood))
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
        match problem.items[item].gluing {
            None => base,
            Some(gluing) => {
                let width = problem.blank_width(stock, item, strip);
                base + self.width[gluing] * width as f64
                    + NarrowWide::of(&self.narrow_wide[gluing], width)
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
        if self.rounding.is_empty() {
            return 0.0;
        }
        let staves = staves_of(problem, pattern.stock, &pattern.shape);
        let staves: Vec<(usize, i64)> = staves.collect();
        let each = self.rounding.iter();
        each.map(|(rounding, gain)| gain * rounding.given(staves.iter().copied()) as f64)
            .sum()
    }

    /// What one stave of a gluing, `wide` at most, gets where it is alone on the board: with others, no more.
    pub(in crate::layout) fn gain(&self, gluing: usize, wide: i64) -> f64 {
        let of = self
            .rounding
            .iter()
            .filter(|(rounding, _)| rounding.has(gluing));
        of.map(|(rounding, gain)| gain * rounding.units(wide) as f64)
            .sum()
    }

    /// What a pattern pays once for the gluings it has staves of.
    fn tolls(&self, problem: &Problem, pattern: &Pattern) -> f64 {
        if self.once[pattern.stock].is_empty() {
            return 0.0;
        }
        let mut gluings: Vec<usize> = pattern
            .items()
            .filter_map(|item| problem.items[item].gluing)
            .collect();
        gluings.sort_unstable();
        gluings.dedup();
        let toll = |&gluing: &usize| self.toll(pattern.stock, gluing);
        gluings.iter().map(toll).sum()
    }

    /// What a board of kind `stock` pays once for staves of a gluing.
    pub(in crate::layout) fn toll(&self, stock: usize, gluing: usize) -> f64 {
        let mut once = self.once[stock].iter();
        once.find(|one| one.0 == gluing)
            .map_or(0.0, |(_, toll)| *toll)
    }
}
