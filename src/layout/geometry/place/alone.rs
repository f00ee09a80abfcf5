//! The widest blank an item may have on a board by itself.

use std::ops::Range;

use crate::layout::geometry::place::best::fits;
use crate::layout::geometry::place::flat::is_clear;
use crate::layout::geometry::place::options::Sections;
use crate::layout::geometry::placed::clear_cost;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;

/// Widest blank `item` may have on an untouched board of this kind: 0 when it does not fit.
///
/// For a stave, the widest strip that is free of defects somewhere, or the widest that still
/// comes out thick enough, to a step; what its front needs does not count.
pub(in crate::layout) fn widest_alone(problem: &Problem, stock: &Stock, item: usize) -> i64 {
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
            && (is_clear(problem, &wide, &shape)
                || fits(problem, &wide, (&Sections::default(), 0), &shape))
    };
    let most = problem.cuts.widest.unwrap_or(i64::MAX);
    if !may || it.width > most || !fits(it.width) {
        return 0;
    }
    if it.gluing.is_none() {
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
