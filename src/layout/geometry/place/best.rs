//! The best arrangement of a pattern.

use crate::layout::geometry::place::arrange::arrange;
use crate::layout::geometry::place::arranged::Arranged;
use crate::layout::geometry::place::clear::place_clear;
use crate::layout::geometry::place::fit::sections_fit;
use crate::layout::geometry::place::flat::is_clear;
use crate::layout::geometry::place::options::Sections;
use crate::layout::geometry::place::turn;
use crate::layout::geometry::placed::{Placed, clear_cost};
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, outline};
use crate::layout::model::stock::Stock;

/// Whether an arrangement of `shape` is found on a board that is not clear for it. `sections` are those known of
/// boards under a number each, and the number of this one.
pub(in crate::layout) fn fits(
    problem: &Problem,
    stock: &Stock,
    sections: (&Sections, usize),
    shape: &Shape,
) -> bool {
    let closely = || {
        let any = (f64::INFINITY, f64::INFINITY);
        let found = arrange((problem, stock), sections, shape, any, false);
        found.placed.is_some()
    };
    sections_fit(problem, stock, shape).unwrap_or_else(closely)
}

/// The best arrangement of `shape` on a board; of those that cost as little, the one nearest the hook end and
/// the near edge: equal plans are written alike.
pub(in crate::layout) fn place_nearest(
    problem: &Problem,
    stock: &Stock,
    shape: &Shape,
) -> Option<Placed> {
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
pub(in crate::layout) fn place(
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
            crate::layout::geometry::placed::measured(stock, &problem.cuts, sections)
        }));
    }
    Arranged::best(place_clear(problem, stock, shape))
}
