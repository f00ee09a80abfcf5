//! A board pattern: what is cut from one board.

use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, StripShape};

/// A set of stretches cut from one board of a kind: a column of the master program.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Pattern {
    pub(in crate::layout) stock: usize,
    pub(in crate::layout) shape: Shape,
    /// Cost of the wood used, and of fronts that leave the board they are chalked on.
    pub(in crate::layout) wood: f64,
}

impl Pattern {
    /// Its items, in no telling order.
    pub(in crate::layout) fn items(&self) -> impl Iterator<Item = usize> + '_ {
        self.strips().flat_map(|strip| strip.items.iter().copied())
    }

    /// Its strips.
    pub(in crate::layout) fn strips(&self) -> impl Iterator<Item = &StripShape> + '_ {
        self.shape.iter().flatten()
    }
}

/// The staves of a shape cut from a board of kind `stock`: the gluing and the width of the blank.
pub(in crate::layout) fn staves_of<'s>(
    problem: &'s Problem,
    stock: usize,
    shape: &'s Shape,
) -> impl Iterator<Item = (usize, i64)> + 's {
    let board = &problem.stock[stock];
    shape.iter().flatten().flat_map(move |strip| {
        let items = strip.items.iter().enumerate();
        items.filter_map(move |(place, &item)| {
            let gluing = problem.items[item].gluing?;
            Some((gluing, strip.blank_width(problem, board, place)))
        })
    })
}

/// The same shape in one order: its arrangement is the placer's business.
pub(in crate::layout) fn sorted(shape: &Shape) -> Shape {
    let mut shape = shape.clone();
    for section in &mut shape {
        for strip in section.iter_mut() {
            strip.items.sort_unstable();
            strip.narrower.sort_unstable();
        }
        section.sort_unstable();
    }
    shape.sort_unstable();
    shape
}
