//! Staves narrower than the strip they share, where a defect asks for it.

use super::super::super::pattern::{Pattern, sorted};
use super::super::super::problem::{Problem, Stock};
use super::Walk;

/// Ways to narrow the staves of one pattern that are looked at: else it is only hoped for.
const MOST: usize = 200;

/// A stave that may be narrower: its section, strip and item.
type Stave = (usize, usize, usize);

impl Walk<'_, '_> {
    /// Keeps what comes of `pattern` when staves that share a strip are narrower, as the defects
    /// beside them may ask for. Where the ways are too many it is kept as hoped for, with the cost `wood`
    /// and worth `best`.
    pub(super) fn narrower(&mut self, pattern: &Pattern, wood: f64, best: f64) {
        let mut ways = vec![pattern.clone()];
        for ((section, strip, item), widths) in staves(self.problem, self.stock, pattern) {
            let wider = ways.clone();
            for width in widths {
                let narrowed = wider.iter().cloned().map(|mut way| {
                    way.shape[section][strip].narrower.push((item, width));
                    way
                });
                ways.extend(narrowed.filter(|way| self.may_pass(way)));
            }
            if ways.len() > MOST {
                self.upper = self.upper.max(best);
                let hoped = Pattern {
                    wood,
                    ..pattern.clone()
                };
                self.keep(hoped, best, false);
                return;
            }
        }
        // The first is the pattern itself.
        for way in ways.into_iter().skip(1) {
            self.keep_way(way);
        }
    }

    /// Whether a way may be worth enough: others narrower still are worth less.
    fn may_pass(&self, way: &Pattern) -> bool {
        let sisters = || (self.sisters).complete(self.problem, self.index, &way.shape);
        self.prices.value(self.problem, way) > self.least && sisters()
    }

    fn keep_way(&mut self, mut way: Pattern) {
        if !self.seen.insert(sorted(&way.shape)) {
            return;
        }
        let Some(wood) = self.costs.wood(self.problem, self.index, &way.shape) else {
            return;
        };
        way.wood = wood;
        let value = self.prices.value(self.problem, &way);
        if value > self.least {
            self.upper = self.upper.max(value);
            self.keep(way, value, true);
        }
    }
}

/// The staves that share a strip with others, and the narrower widths they may have.
fn staves(problem: &Problem, stock: &Stock, pattern: &Pattern) -> Vec<(Stave, Vec<i64>)> {
    let mut found = Vec::new();
    for (section, strips) in pattern.shape.iter().enumerate() {
        for (strip, shape) in strips.iter().enumerate().filter(|(_, s)| s.items.len() > 1) {
            for (place, &item) in shape.items.iter().enumerate() {
                if let Some(mode) = problem.items[item].mode {
                    let least = problem.items[item].width;
                    let widest = shape.blank_width(problem, stock, place);
                    let step = problem.cuts.glue_step;
                    let widths = problem.modes[mode].widths(step, least, widest - 1);
                    found.push(((section, strip, item), widths));
                }
            }
        }
    }
    found
}
