//! A board pattern without coordinates.

use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;

/// A board pattern without coordinates: sections and their strips.
pub(in crate::layout) type Shape = Vec<Vec<StripShape>>;

/// A strip without coordinates.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(in crate::layout) struct StripShape {
    pub(in crate::layout) width: i64,
    pub(in crate::layout) items: Vec<usize>,
    /// Staves that share the strip and are to be narrower than it, as a defect beside them may ask
    /// for: the item and widest blank of each. They are the first of their item in `items`.
    pub(in crate::layout) narrower: Vec<(usize, i64)>,
}

impl StripShape {
    /// A strip for one item, `width` wide.
    pub(in crate::layout) fn of(item: usize, width: i64) -> StripShape {
        StripShape {
            width,
            items: vec![item],
            narrower: Vec::new(),
        }
    }

    /// Makes the blank at this place of `items` narrower, and the strip no wider than its widest blank.
    pub(in crate::layout) fn narrow(
        &mut self,
        problem: &Problem,
        stock: &Stock,
        place: usize,
        width: i64,
    ) {
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
    pub(in crate::layout) fn blank_width(
        &self,
        problem: &Problem,
        stock: &Stock,
        place: usize,
    ) -> i64 {
        let item = self.items[place];
        let before = self.items[..place].iter().filter(|&&i| i == item).count();
        let mut narrower = self.narrower.iter().filter(|narrower| narrower.0 == item);
        match narrower.nth(before) {
            Some(narrower) => narrower.1,
            None => problem.blank_width(stock, item, self.width),
        }
    }
}

/// Lengths and strip widths of a pattern's sections, as [`clear_cost`] wants them.
pub(in crate::layout) fn outline(problem: &Problem, shape: &Shape) -> Vec<(i64, i64)> {
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
