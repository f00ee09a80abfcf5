//! Boards that are clear for a pattern.

use crate::layout::geometry::place::clear::tight_starts;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, StripShape};
use crate::layout::model::stock::Stock;

/// Whether every stretch of `shape` may lie anywhere on the board as short as can be: no defects, and
/// nothing too thin for it.
pub(in crate::layout) fn is_clear(problem: &Problem, stock: &Stock, shape: &Shape) -> bool {
    let flat = |strip: &StripShape| {
        (0..strip.items.len()).all(|place| {
            let item = strip.items[place];
            if problem.items[item].gluing.is_none() && !stock.flat.is_empty() {
                return stock.flat[item];
            }
            let wide = strip.blank_width(problem, stock, place);
            flat_alone(problem, stock, item, wide)
        })
    };
    stock.zones.is_empty() && (!stock.warped || shape.iter().flatten().all(flat))
}

/// Whether `item`, tight and `width` wide, comes out thick enough.
pub(in crate::layout) fn flat_alone(
    problem: &Problem,
    stock: &Stock,
    item: usize,
    width: i64,
) -> bool {
    let it = &problem.items[item];
    let starts = tight_starts(&it.lengths, &it.gaps, 0);
    let spans: Vec<(i64, i64)> = starts
        .iter()
        .zip(&it.lengths)
        .map(|(&start, &length)| (start, start + length))
        .collect();
    problem.thick_enough(stock, it, width, &spans, false)
}
