//! Finds coordinates for a board pattern: the arrangement that keeps most.
//!
//! On a clear board every order is as good as another and the answer is direct ([`clear`]). Where there
//! are defects, strips are stacked in every order at a finite set of places ([`across`]), the stacks
//! lie at a finite set of tight places and slides ([`interval`]), and sections in every order grow or do
//! not ([`along`], [`search`]). Each of these says why its set suffices under the rules of cutting. Where a
//! set is too large to be looked at, the answer says so: then what the pattern would cost on a clear board
//! stands as its least cost, and no proof is built on more than that.

mod across;
mod along;
mod clear;
mod interval;
mod options;
mod pack;
mod search;
mod stretch;
mod strip;
mod turn;

use std::ops::Range;

use super::geometry::{Placed, clear_cost};
use super::problem::{Problem, Stock};
use clear::{place_clear, tight_starts};
pub(super) use options::Sections;
use search::arrange;
pub(super) use strip::{spans, spans_of};

/// A board pattern without coordinates: sections and their strips.
pub(super) type Shape = Vec<Vec<StripShape>>;

/// A strip without coordinates.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct StripShape {
    pub(super) width: i64,
    pub(super) items: Vec<usize>,
    /// Staves that share the strip and are to be narrower than it, as a defect beside them may ask
    /// for: the item and widest blank of each. They are the first of their item in `items`.
    pub(super) narrower: Vec<(usize, i64)>,
}

impl StripShape {
    /// A strip for one item, `width` wide.
    pub(super) fn of(item: usize, width: i64) -> StripShape {
        StripShape {
            width,
            items: vec![item],
            narrower: Vec::new(),
        }
    }

    /// Makes the blank at this place of `items` narrower, and the strip no wider than its widest blank.
    pub(super) fn narrow(&mut self, problem: &Problem, stock: &Stock, place: usize, width: i64) {
        let item = self.items[place];
        let before = self.items[..place].iter().filter(|&&i| i == item).count();
        // Those of the item before it keep the width they have.
        let wide: Vec<i64> = (0..self.items.len())
            .map(|place| self.blank_width(problem, stock, place))
            .collect();
        let mut of_item: Vec<i64> = (0..self.items.len())
            .filter(|&place| self.items[place] == item)
            .map(|place| wide[place])
            .collect();
        of_item[before] = width;
        of_item.sort_unstable();
        self.narrower.retain(|narrower| narrower.0 != item);
        self.narrower
            .extend(of_item.iter().map(|&wide| (item, wide)));
        let others = wide.iter().zip(&self.items);
        let others = others
            .filter(|(_, other)| **other != item)
            .map(|(wide, _)| *wide);
        self.width = others.chain(of_item.iter().copied()).max().unwrap_or(width);
        let plain = problem.blank_width(stock, item, self.width);
        self.narrower
            .retain(|&(of, wide)| of != item || wide != plain);
        self.narrower.sort_unstable();
    }

    /// Width of the blank at this place of `items` in such a strip of a board of kind `stock`.
    pub(super) fn blank_width(&self, problem: &Problem, stock: &Stock, place: usize) -> i64 {
        let item = self.items[place];
        let before = self.items[..place].iter().filter(|&&i| i == item).count();
        let mut narrower = self.narrower.iter().filter(|narrower| narrower.0 == item);
        match narrower.nth(before) {
            Some(narrower) => narrower.1,
            None => problem.blank_width(stock, item, self.width),
        }
    }
}

/// The best arrangement found of a pattern, and what none costs less than: infinite where there is none.
pub(super) struct Arranged {
    pub(super) placed: Option<Placed>,
    pub(super) least: f64,
}

impl Arranged {
    fn none(least: f64) -> Arranged {
        Arranged {
            placed: None,
            least,
        }
    }

    /// One that is known to be best.
    fn best(placed: Option<Placed>) -> Arranged {
        Arranged {
            least: placed.as_ref().map_or(f64::INFINITY, |placed| placed.cost),
            placed,
        }
    }
}

/// Widest blank `item` may have on an untouched board of this kind: 0 when it does not fit.
///
/// For a stave, the widest strip that is free of defects somewhere, or the widest that still
/// comes out thick enough, to a step; what its front needs does not count.
pub(super) fn widest_alone(problem: &Problem, stock: &Stock, item: usize) -> i64 {
    let it = &problem.items[item];
    let may = !parts_neighbours(problem, &it.rows)
        && it.rows.clone().all(|row| {
            let front = &problem.job.fronts[problem.chain[row]];
            front.may_come_from(problem.board(stock))
        });
    let fits = |width: i64| {
        let wide = Stock {
            widest: vec![width; item + 1],
            ..stock.clone()
        };
        let shape = vec![vec![StripShape::of(item, width)]];
        clear_cost(stock, &problem.cuts, &[(it.room, width)]).is_some()
            && (is_clear(problem, &wide, &shape) || fits(problem, &wide, &shape))
    };
    let most = problem.cuts.widest.unwrap_or(i64::MAX);
    if !may || it.width > most || !fits(it.width) {
        return 0;
    }
    if it.mode.is_none() {
        return it.width;
    }
    let full = stock.width - 2 * stock.edge_loss(&problem.cuts, it.room);
    if fits(full) {
        return full;
    }
    // Each condition only gets harder with width: halve the interval down to one step. What is a little too
    // wide yet is found out when it is placed.
    let step = problem.cuts.glue_step;
    let (mut good, mut bad) = (it.width, full);
    while bad - good > step {
        let middle = good + (bad - good) / 2;
        if fits(middle) {
            good = middle
        } else {
            bad = middle
        }
    }
    bad - 1
}

/// Whether a stretch of these rows would part fronts that are to stay in one.
fn parts_neighbours(problem: &Problem, rows: &Range<usize>) -> bool {
    let with_next = |row: usize| problem.job.fronts[problem.chain[row]].with_next;
    let before = rows.start.checked_sub(1).is_some_and(with_next);
    before || with_next(rows.end - 1)
}

/// Whether an arrangement of `shape` is found on a board that is not clear for it.
pub(super) fn fits(problem: &Problem, stock: &Stock, shape: &Shape) -> bool {
    if let ([section], true) = (&shape[..], stock.crook == 0.0)
        && let Some(fits) = options::fits_alone(problem, stock, section)
    {
        return fits;
    }
    let any = (f64::INFINITY, f64::INFINITY);
    let sections = Sections::default();
    arrange((problem, stock), (&sections, 0), shape, any, false)
        .placed
        .is_some()
}

/// Lengths and strip widths of a pattern's sections, as [`clear_cost`] wants them.
pub(super) fn outline(problem: &Problem, shape: &Shape) -> Vec<(i64, i64)> {
    let crosscut = problem.cuts.crosscut;
    shape
        .iter()
        .map(|strips| {
            let long = |strip: &StripShape| {
                let rooms: i64 = strip.items.iter().map(|&i| problem.items[i].room).sum();
                rooms + crosscut * (strip.items.len() as i64 - 1)
            };
            let wide: i64 = strips.iter().map(|s| s.width).sum();
            let rips = problem.cuts.rip * (strips.len() as i64 - 1);
            (strips.iter().map(long).max().unwrap_or(0), wide + rips)
        })
        .collect()
}

/// Whether every stretch of `shape` may lie anywhere on the board as short as can be: no defects, and
/// nothing too thin for it.
pub(super) fn is_clear(problem: &Problem, stock: &Stock, shape: &Shape) -> bool {
    let flat = |strip: &StripShape| {
        (0..strip.items.len()).all(|place| {
            let item = strip.items[place];
            if problem.items[item].mode.is_none() && !stock.flat.is_empty() {
                return stock.flat[item];
            }
            let wide = strip.blank_width(problem, stock, place);
            flat_alone(problem, stock, item, wide)
        })
    };
    stock.zones.is_empty() && (!stock.warped || shape.iter().flatten().all(flat))
}

/// Whether `item`, tight and `width` wide, comes out thick enough.
pub(super) fn flat_alone(problem: &Problem, stock: &Stock, item: usize, width: i64) -> bool {
    let it = &problem.items[item];
    let starts = tight_starts(&it.lengths, &it.gaps, 0);
    let spans: Vec<(i64, i64)> = starts
        .iter()
        .zip(&it.lengths)
        .map(|(&start, &length)| (start, start + length))
        .collect();
    problem.thick_enough(stock, it, width, &spans, false)
}

/// The best arrangement of `shape` on a board; of those that cost as little, the one nearest the hook end and
/// the near edge: equal plans are written alike.
pub(super) fn place_nearest(problem: &Problem, stock: &Stock, shape: &Shape) -> Option<Placed> {
    let sections = (&Sections::default(), 0);
    let placed = |tidy| place_some((problem, stock), sections, shape, (f64::INFINITY, tidy));
    let nearest = placed(true);
    let cost = |of: &Option<Placed>| of.as_ref().map_or(f64::INFINITY, |placed| placed.cost);
    if nearest.least >= cost(&nearest.placed) {
        return nearest.placed;
    }
    // To look for the nearest takes longer, and breaks off sooner.
    let any = placed(false).placed;
    if cost(&any) < cost(&nearest.placed) - 1e-9 {
        any
    } else {
        nearest.placed
    }
}

/// The best arrangement of `shape` on the board of kind `index`, if one costs less than `enough`.
pub(super) fn place(
    (problem, index): (&Problem, usize),
    sections: &Sections,
    shape: &Shape,
    enough: f64,
) -> Arranged {
    let board = (problem, &problem.stock[index]);
    place_some(board, (sections, index), shape, (enough, false))
}

fn place_some(
    (problem, stock): (&Problem, &Stock),
    sections: (&Sections, usize),
    shape: &Shape,
    (enough, tidy): (f64, bool),
) -> Arranged {
    let Some(lower) = clear_cost(stock, &problem.cuts, &outline(problem, shape)) else {
        return Arranged::none(f64::INFINITY);
    };
    if !is_clear(problem, stock, shape) {
        let costs = (lower + 1e-9, enough);
        return arrange((problem, stock), sections, shape, costs, tidy);
    }
    // Sections lie at the hook end: where only that may be kept, at the other.
    if stock.ends == [true, false] {
        let other = turn::turned(stock);
        let found = place_clear(problem, &other, shape);
        return Arranged::best(found.map(|found| {
            let sections = turn::turn_sections(problem, stock.length, found.sections);
            super::geometry::measured(stock, &problem.cuts, sections)
        }));
    }
    Arranged::best(place_clear(problem, stock, shape))
}
