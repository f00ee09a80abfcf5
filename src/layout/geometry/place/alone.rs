//! The widest blank an item may have on a board by itself.

use std::ops::Range;

use crate::layout::geometry::place::best::fits;
use crate::layout::geometry::place::flat::is_clear;
use crate::layout::geometry::place::options::Sections;
use crate::layout::geometry::placed::clear_cost;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;

/// An untouched board on which items are tried one after another.
pub(in crate::layout) struct Alone<'p, 'a> {
    problem: &'p Problem<'a>,
    stock: &'p Stock,
    /// The same, where only the item that is tried has a width.
    trial: Stock,
}

impl<'p, 'a> Alone<'p, 'a> {
    pub(in crate::layout) fn new(problem: &'p Problem<'a>, stock: &'p Stock) -> Alone<'p, 'a> {
        let trial = Stock {
            widest: vec![0; problem.items.len()],
            ..stock.clone()
        };
        Alone {
            problem,
            stock,
            trial,
        }
    }

    /// Widest blank `item` may have on a board of this kind: 0 when it does not fit.
    ///
    /// For a stave, the widest strip that is free of defects somewhere, or the widest that still
    /// comes out thick enough, to a step; what its front needs does not count.
    pub(in crate::layout) fn widest(&mut self, item: usize) -> i64 {
        let (problem, stock) = (self.problem, self.stock);
        let it = &problem.items[item];
        let may = !parts_neighbours(problem, &it.rows)
            && it.rows.clone().all(|row| {
                let front = &problem.job.fronts[problem.chain[row]];
                front.may_come_from(problem.board(stock))
            });
        let most = problem.cuts.widest.unwrap_or(i64::MAX);
        if !may || it.width > most || !self.fits(item, it.width) {
            return 0;
        }
        if it.gluing.is_none() {
            return it.width;
        }
        let full = stock.width - 2 * stock.edge_loss(&problem.cuts, it.room);
        if self.fits(item, full) {
            return full;
        }
        // Each condition only gets harder with width: halve the interval down to one step. What is a little too
        // wide yet is found out when it is placed.
        let step = problem.cuts.glue_step;
        let (mut good, mut bad) = (it.width, full);
        while bad - good > step {
            let middle = good + (bad - good) / 2;
            if self.fits(item, middle) {
                good = middle
            } else {
                bad = middle
            }
        }
        bad - 1
    }

    /// Whether a blank of the item so wide has a place.
    fn fits(&mut self, item: usize, width: i64) -> bool {
        let (problem, stock) = (self.problem, self.stock);
        let room = [(problem.items[item].room, width)];
        if clear_cost(stock, &problem.cuts, &room).is_none() {
            return false;
        }
        let shape = vec![vec![StripShape::of(item, width)]];
        self.trial.widest[item] = width;
        let fits = is_clear(problem, &self.trial, &shape)
            || fits(problem, &self.trial, (&Sections::default(), 0), &shape);
        self.trial.widest[item] = 0;
        fits
    }
}

/// Whether a stretch of these rows would part fronts that are to stay in one.
fn parts_neighbours(problem: &Problem, rows: &Range<usize>) -> bool {
    let with_next = |row: usize| problem.job.fronts[problem.chain[row]].with_next;
    let before = rows.start.checked_sub(1).is_some_and(with_next);
    before || with_next(rows.end - 1)
}
