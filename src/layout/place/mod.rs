//! Finds coordinates for a board pattern: the arrangement that keeps most.
//!
//! On a clear board every order is as good as another and the answer is direct. Where there are
//! defects, sections, strips and stretches are tried in every order, each pushed as near the
//! hook end as the defects let it, and the same on the board turned end for end.

mod clear;
mod prospects;
mod search;

use super::geometry::{Placed, clear_cost, settle};
use super::problem::{Problem, Stock};
use super::zone::Zone;
use clear::{place_clear, tight_starts};
use search::Search;

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

    /// Width of the blank at this place of `items` in such a strip of a board of kind `stock`.
    pub(super) fn blank_width(&self, problem: &Problem, stock: &Stock, place: usize) -> i64 {
        let item = self.items[place];
        let before = self.items[..place].iter().filter(|&&i| i == item).count();
        let mut narrower = self.narrower.iter().filter(|narrower| narrower.0 == item);
        let wide = narrower
            .nth(before)
            .map_or(self.width, |narrower| narrower.1);
        problem.blank_width(stock, item, wide)
    }
}

/// Widest blank `item` may have on an untouched board of this kind: 0 when it does not fit.
///
/// For a stave, the widest strip that is free of defects somewhere, or the widest that still
/// comes out thick enough.
pub(super) fn widest_alone(problem: &Problem, stock: &Stock, item: usize) -> i64 {
    let it = &problem.items[item];
    let pinned = it.rows.clone().all(|row| {
        let front = &problem.job.fronts[problem.chain[row]];
        let id = &problem.board(stock).id;
        front.board.as_ref().is_none_or(|board| board == id)
    });
    let fits = |width: i64| {
        clear_cost(stock, &problem.cuts, &[(it.room, width)]).is_some()
            && flat_alone(problem, stock, item, width)
            && (stock.zones.is_empty() || {
                let strip = StripShape::of(item, width);
                let wide = Stock {
                    widest: vec![width; item + 1],
                    ..stock.clone()
                };
                let shape = vec![vec![strip]];
                fits_pushed(problem, &wide, &shape) || place(problem, &wide, &shape).is_some()
            })
    };
    if !pinned || !fits(it.width) {
        return 0;
    }
    let Some(mode) = it.mode else {
        return it.width;
    };
    // Each condition only gets harder with width: halve the interval down to a nanometre.
    let full = stock.width - 2 * stock.edge_loss(&problem.cuts, it.room);
    let (mut good, mut bad) = (it.width, problem.modes[mode].widest.min(full) + 1);
    if fits(bad - 1) {
        return bad - 1;
    }
    while bad - good > 1 {
        let middle = good + (bad - good) / 2;
        if fits(middle) {
            good = middle
        } else {
            bad = middle
        }
    }
    good
}

/// Whether `item`, tight and `width` wide, comes out thick enough.
fn flat_alone(problem: &Problem, stock: &Stock, item: usize, width: i64) -> bool {
    let it = &problem.items[item];
    let starts = tight_starts(&it.lengths, &it.gaps, 0);
    let spans: Vec<(i64, i64)> = starts
        .iter()
        .zip(&it.lengths)
        .map(|(&start, &length)| (start, start + length))
        .collect();
    problem.thick_enough(stock, it, width, &spans, false)
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

/// The best arrangement of `shape` on a board, or nothing when it does not fit.
pub(super) fn place(problem: &Problem, stock: &Stock, shape: &Shape) -> Option<Placed> {
    let lower = clear_cost(stock, &problem.cuts, &outline(problem, shape))?;
    if stock.zones.is_empty() {
        // Sections lie at the hook end: where only that may be kept, at the other.
        if stock.ends == [true, false] {
            let found = place_clear(problem, &turned(stock), shape)?;
            return Some(turn_back(problem, stock, found));
        }
        return place_clear(problem, stock, shape);
    }
    let mut best: Option<Placed> = None;
    let mirrored = turned(stock);
    for (turn, stock) in [(false, stock), (true, &mirrored)] {
        for start in starts(problem, stock) {
            let found = Search::best(problem, stock, shape, (start, lower + 1e-9));
            if let Some(found) = found
                && best.as_ref().is_none_or(|b| found.cost < b.cost - 1e-12)
            {
                best = Some(if turn {
                    turn_back(problem, stock, found)
                } else {
                    found
                });
            }
            if best.as_ref().is_some_and(|b| b.cost <= lower + 1e-9) {
                return best;
            }
        }
    }
    best
}

/// Whether `shape` fits when pushed as near as can be to one end of the board or the other.
pub(super) fn fits_pushed(problem: &Problem, stock: &Stock, shape: &Shape) -> bool {
    let fits_on = |stock: &Stock| Search::any(problem, stock, shape, stock.from);
    fits_on(stock) || fits_on(&turned(stock))
}

/// Where the first section may start: at the trim, or far enough on that the hook end is kept.
fn starts(problem: &Problem, stock: &Stock) -> Vec<i64> {
    let mut starts = vec![stock.from];
    if let Some(keep) = problem.cuts.keep_length {
        let least = stock.from + keep + problem.cuts.crosscut;
        starts.push(least);
        starts.extend(stock.zones.iter().map(|z| z.to).filter(|&to| to > least));
        starts.retain(|&s| s < stock.to);
    }
    starts
}

/// The same board hooked at its other end.
fn turned(stock: &Stock) -> Stock {
    Stock {
        zones: stock
            .zones
            .iter()
            .map(|z: &Zone| z.mirrored(stock.length))
            .collect(),
        ends: [stock.ends[1], stock.ends[0]],
        ..stock.clone()
    }
}

/// Coordinates found on the turned board, measured from the real hook end again.
fn turn_back(problem: &Problem, stock: &Stock, placed: Placed) -> Placed {
    let length = stock.length;
    let mut sections = placed.sections;
    sections.reverse();
    for section in &mut sections {
        (section.from, section.to) = (length - section.to, length - section.from);
        for strip in &mut section.strips {
            strip.items.reverse();
            for placed in &mut strip.items {
                let lengths = &problem.items[placed.item].lengths;
                let n = lengths.len();
                let ends: Vec<i64> = (0..n)
                    .map(|i| {
                        let blank = lengths[if placed.reverse { n - 1 - i } else { i }];
                        length - (placed.starts[i] + blank)
                    })
                    .rev()
                    .collect();
                placed.starts = ends;
                placed.reverse = !placed.reverse;
            }
        }
    }
    settle(stock, &problem.cuts, sections)
}
