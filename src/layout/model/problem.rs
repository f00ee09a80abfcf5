//! A job as the optimiser sees it: stock, rows to cover, and the items that cover them.
//!
//! A *row* is one front, at its position in the chain of all runs. An *item* is one way to cut
//! consecutive rows as one stretch: in one piece, or as one stave of a *gluing*, which is a stretch
//! glued from so many staves. A board pattern is a set of items.

use std::ops::Range;

use crate::job::{Board, Job};
use crate::layout::model::identical::IdenticalFronts;
use crate::layout::model::items::{Gluing, Item};
use crate::layout::model::looks::{Labels, Looks};
use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::stock::Stock;
use crate::layout::model::watch::Patience;
use crate::layout::model::worths::{UNMADE, Worths};
use crate::measure::Length;
use crate::milling;
use crate::plan::Limits;

/// Whether each row is of a front that no board can make, nor any part of it.
pub(in crate::layout) fn hopeless(problem: &Problem) -> Vec<bool> {
    let mut hopeless = vec![true; problem.chain.len()];
    for (index, item) in problem.items.iter().enumerate() {
        if problem.stock.iter().any(|stock| stock.widest[index] > 0) {
            hopeless[item.rows.clone()].fill(false);
        }
    }
    hopeless
}

/// A job prepared for the search. Lengths are whole nanometres.
#[derive(Clone)]
pub(in crate::layout) struct Problem<'a> {
    pub(in crate::layout) job: &'a Job,
    /// Fronts in chain order: run after run, each by place. Row `r < chain.len()` is `chain[r]`.
    pub(in crate::layout) chain: Vec<usize>,
    /// Rows of each run.
    pub(in crate::layout) runs: Vec<Range<usize>>,
    /// All items: one-piece stretches by first row, then the staves, one a gluing.
    pub(in crate::layout) items: Vec<Item>,
    /// Ways to glue a stretch.
    pub(in crate::layout) gluings: Vec<Gluing>,
    /// One-piece items that start at each row, shortest first.
    pub(in crate::layout) starts: Vec<Range<usize>>,
    /// Gluings of the stretches that start at each row.
    pub(in crate::layout) glued_starts: Vec<Vec<usize>>,
    /// Board kinds.
    pub(in crate::layout) stock: Vec<Stock>,
    /// Different tones on hand, palest first.
    pub(in crate::layout) tones: Vec<f64>,
    /// Different looks on hand.
    pub(in crate::layout) looks: Looks,
    pub(in crate::layout) cuts: SawRules,
    pub(in crate::layout) worth: Worths,
    /// Whether the cost is money.
    pub(in crate::layout) by_money: bool,
    /// What the plan must keep to.
    pub(in crate::layout) limits: Limits,
    /// Fronts that can trade places.
    pub(in crate::layout) identical: IdenticalFronts,
    /// Sides of tone steps that runs are known to be on.
    pub(in crate::layout) sides: Vec<OnSide>,
    /// Boards known to be used, of which there is one each.
    pub(in crate::layout) used: Vec<usize>,
    /// Boards, of which there is one each, known to give a stave of a gluing or more: `(board, gluing)`.
    pub(in crate::layout) giving: Vec<(usize, usize)>,
    /// Whether each row is of a front that no board can make, nor any part of it.
    pub(in crate::layout) hopeless: Vec<bool>,
    /// How long boards are looked at.
    pub(in crate::layout) patience: Patience<'a>,
}

/// A run, or after the last one the case, with something on one side of a tone step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::layout) struct OnSide {
    pub(in crate::layout) run: usize,
    pub(in crate::layout) step: usize,
    pub(in crate::layout) below: bool,
}

impl<'a> Problem<'a> {
    /// Leaves out the ways to glue that are in no plan cheaper than `cost`, by their glue lines and the wood of
    /// the blanks alone.
    pub(in crate::layout) fn leave_out_dear_glue(&mut self, cost: f64) {
        let wood: Vec<f64> = (0..self.chain.len())
            .map(|row| self.least_wood(row))
            .collect();
        let all: f64 = wood.iter().sum();
        let dear = |gluing: &Gluing| {
            let lines = (gluing.staves - 1) * gluing.rows.len();
            all + self.worth.glue_line * lines as f64 > cost
        };
        let dear: Vec<usize> = self
            .gluings
            .iter()
            .filter(|m| dear(m))
            .map(|m| m.item)
            .collect();
        for stock in &mut self.stock {
            dear.iter().for_each(|&item| stock.widest[item] = 0);
        }
    }

    /// Least cost of the wood in the blank of the front at `row`: what is kept does not overlap it.
    fn least_wood(&self, row: usize) -> f64 {
        let item = &self.items[self.starts[row].start];
        let area = item.length as f64 * item.width as f64;
        let may = |stock: &&Stock| {
            let items = self.items.iter().zip(&stock.widest);
            items
                .filter(|(item, _)| item.rows.contains(&row))
                .any(|(_, &widest)| widest > 0)
        };
        let rate = |stock: &Stock| stock.whole / (stock.length as f64 * stock.width as f64);
        let rates = self.stock.iter().filter(may).map(rate);
        let least = rates.fold(f64::INFINITY, f64::min);
        // A front that no board can make takes none.
        if least.is_finite() {
            area * least.max(0.0)
        } else {
            0.0
        }
    }

    /// The job without these rows, which are of whole runs with all their identical fronts: no board makes them, and
    /// nobody need.
    pub(in crate::layout) fn without(&self, rows: &[usize]) -> Problem<'a> {
        let mut part = self.clone();
        for stock in &mut part.stock {
            for (item, widest) in self.items.iter().zip(&mut stock.widest) {
                if item.rows.clone().any(|row| rows.contains(&row)) {
                    *widest = 0;
                }
            }
        }
        part.hopeless = hopeless(&part);
        part
    }

    /// Width of the blank of `item` in a strip `strip` wide of a board of kind `stock`.
    pub(in crate::layout) fn blank_width(&self, stock: &Stock, item: usize, strip: i64) -> i64 {
        match self.items[item].gluing {
            None => self.items[item].width,
            Some(gluing) => {
                let wide = strip
                    .min(self.gluings[gluing].widest)
                    .min(stock.widest[item]);
                let full = wide == strip && stock.is_full(strip);
                self.gluings[gluing].widest_in(self.cuts.glue_step, wide, full)
            }
        }
    }

    /// Most boards that any plan uses: one for each front, or for each of its staves.
    pub(in crate::layout) fn most_boards(&self) -> usize {
        let staves = |row: usize| {
            let gluings = self.gluings.iter().filter(move |m| m.rows.contains(&row));
            gluings.map(|gluing| gluing.staves).max().unwrap_or(1)
        };
        (0..self.chain.len()).map(staves).sum()
    }

    /// Less than nothing when cutting a piece of a board in use saves wood that is spent already: no
    /// plan costs less.
    pub(in crate::layout) fn most_saved(&self) -> f64 {
        let saved = |s: &Stock| {
            let area = s.usable() as f64 * s.width as f64;
            (s.whole - s.kept_rate * area).min(0.0) * s.count as f64
        };
        self.stock.iter().map(saved).sum()
    }

    /// Whether the front at `row` can be made of the untouched pile, in one piece or glued.
    pub(in crate::layout) fn fits_somewhere(&self, row: usize) -> bool {
        let on = |item: usize| {
            self.stock
                .iter()
                .map(move |s| s.widest[item] * s.count as i64)
        };
        let whole = self.starts[row].start;
        let glued = |&&gluing: &&usize| {
            let m = &self.gluings[gluing];
            m.rows.len() == 1 && on(m.item).sum::<i64>() >= m.total_width
        };
        on(whole).max() > Some(0) || self.glued_starts[row].iter().find(glued).is_some()
    }

    /// Runs with at least one front that can be made.
    pub(in crate::layout) fn live_runs(&self) -> std::ops::Range<usize> {
        0..self.runs.len()
    }

    /// Log and way of sawing of a kind of board.
    pub(in crate::layout) fn labels(&self, stock: &Stock) -> Labels {
        self.looks.all[stock.look].labels
    }

    /// The board kind behind a stock entry.
    pub(in crate::layout) fn board(&self, stock: &Stock) -> &'a Board {
        &self.job.boards[stock.board]
    }

    /// Whether every front of `item` comes out thick enough with its blanks at `spans`, in order
    /// along the board; `reverse` when the run's last front comes first.
    pub(in crate::layout) fn thick_enough(
        &self,
        stock: &Stock,
        item: &Item,
        width: i64,
        spans: &[(i64, i64)],
        reverse: bool,
    ) -> bool {
        let mut fronts: Vec<_> = item
            .rows
            .clone()
            .map(|row| &self.job.fronts[self.chain[row]])
            .collect();
        if reverse {
            fronts.reverse();
        }
        let spans: Vec<_> = spans
            .iter()
            .map(|&(a, b)| (Length::from_nm(a), Length::from_nm(b)))
            .collect();
        let allowances = &self.job.settings.allowances;
        milling::thick_enough(
            self.board(stock),
            &fronts,
            &spans,
            Length::from_nm(width),
            allowances.plane,
            allowances.shortest_safe,
        )
    }

    /// Cost of leaving the front at `row` unmade: nothing where no plan makes it.
    pub(in crate::layout) fn unmade(&self, row: usize) -> f64 {
        if self.hopeless[row] {
            0.0
        } else {
            UNMADE * self.area(row)
        }
    }

    /// What the fronts no plan makes would cost if they were counted.
    pub(in crate::layout) fn lost(&self) -> f64 {
        let rows = (0..self.chain.len()).filter(|&row| self.hopeless[row]);
        rows.map(|row| UNMADE * self.area(row)).sum()
    }

    /// Square feet of the finished front at `row`: what decides between fronts when not all can be made.
    pub(in crate::layout) fn area(&self, row: usize) -> f64 {
        let front = &self.job.fronts[self.chain[row]];
        front.width.inches() * front.height.inches() / 144.0
    }
}
