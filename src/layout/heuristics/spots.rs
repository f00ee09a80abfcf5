//! Where an item may go in a plan in the making.

use crate::layout::geometry::placed::clear_cost;
use crate::layout::heuristics::state::State;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, StripShape, outline};

/// One way to put an item on a board, and at least how much it adds to the cost.
pub(in crate::layout) struct Spot {
    /// Index into `State::boards`, or nothing for a fresh board of kind `stock`.
    pub(in crate::layout) board: Option<usize>,
    pub(in crate::layout) stock: usize,
    pub(in crate::layout) shape: Shape,
    pub(in crate::layout) rise: f64,
}

/// Every spot that would do on boards without defects, with the least it can add to the cost.
pub(in crate::layout) fn spots(
    problem: &Problem,
    state: &State,
    item: usize,
    width: i64,
) -> Vec<Spot> {
    let begun = begun(problem, state, 0..state.boards.len(), item, width);
    begun.chain(fresh(problem, state, item, width)).collect()
}

/// Those on boards begun already.
pub(in crate::layout) fn begun<'s>(
    problem: &'s Problem,
    state: &'s State,
    boards: impl Iterator<Item = usize> + 's,
    item: usize,
    width: i64,
) -> impl Iterator<Item = Spot> + 's {
    let blank = i128::from(problem.items[item].length) * i128::from(width);
    boards
        .map(|index| (index, &state.boards[index]))
        .filter(move |(_, pattern)| {
            fits(problem, pattern.stock, item, width) && blank <= free(problem, pattern)
        })
        .flat_map(move |(index, pattern)| {
            extensions(&pattern.shape, item, width)
                .into_iter()
                .filter_map(move |shape| {
                    spot(problem, state, (Some(index), pattern.stock), item, shape)
                })
        })
}

/// Those on boards not begun yet.
pub(in crate::layout) fn fresh<'s>(
    problem: &'s Problem,
    state: &'s State,
    item: usize,
    width: i64,
) -> impl Iterator<Item = Spot> + 's {
    let left = state.left.iter().enumerate();
    left.filter(move |&(stock, &left)| left > 0 && fits(problem, stock, item, width))
        .filter_map(move |(stock, _)| {
            let shape = vec![vec![StripShape::of(item, width)]];
            spot(problem, state, (None, stock), item, shape)
        })
}

fn fits(problem: &Problem, stock: usize, item: usize, width: i64) -> bool {
    let widest = problem.stock[stock].widest[item];
    widest > 0 && widest >= width
}

fn spot(
    problem: &Problem,
    state: &State,
    (board, stock): (Option<usize>, usize),
    item: usize,
    shape: Shape,
) -> Option<Spot> {
    let kind = &problem.stock[stock];
    let wood = clear_cost(kind, &problem.cuts, &outline(problem, &shape))?;
    let wood = wood + problem.moving(stock, &shape);
    let before = board.map_or(0.0, |b| state.boards[b].wood);
    let run = problem.items[item].run;
    Some(Spot {
        board,
        stock,
        shape,
        rise: wood - before + state.look_rise(problem, run, stock),
    })
}

/// Area of the board less that of its blanks, staves as narrow as can be: no larger blank fits.
fn free(problem: &Problem, pattern: &Pattern) -> i128 {
    let stock = &problem.stock[pattern.stock];
    let area = |long: i64, wide: i64| i128::from(long) * i128::from(wide);
    let blanks = pattern.items().map(|item| {
        let item = &problem.items[item];
        area(item.length, item.width)
    });
    area(stock.length, stock.width) - blanks.sum::<i128>()
}

/// The shapes that come of adding an item: to a strip, as a strip, as a section.
fn extensions(shape: &Shape, item: usize, width: i64) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for section in 0..shape.len() {
        for strip in 0..shape[section].len() {
            let mut longer = shape.clone();
            let strip = &mut longer[section][strip];
            strip.items.push(item);
            strip.width = strip.width.max(width);
            shapes.push(longer);
        }
        let mut wider = shape.clone();
        wider[section].push(StripShape::of(item, width));
        shapes.push(wider);
    }
    let mut more = shape.clone();
    more.push(vec![StripShape::of(item, width)]);
    shapes.push(more);
    shapes
}
