//! Staves narrower than their strip or their board has room for, where defects or cup ask for it.

use crate::layout::geometry::placed::clear_cost;
use crate::layout::model::pattern::{Pattern, sorted};
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::outline;
use crate::layout::model::stock::Stock;
use crate::layout::pricing::explore::walk::Walk;

/// Ways to narrow the staves of one pattern that are looked at: else it is only hoped for.
const MOST: usize = 400;

/// A stave that may be narrower: its section, strip and place.
type Stave = (usize, usize, usize);

impl Walk<'_, '_> {
    /// Keeps what comes of `pattern` when its staves are narrower, as the defects beside them may ask for: on
    /// a clear board wider ones are as good, and no others are walked. Where the ways are too many it is kept
    /// as hoped for, worth `best`.
    pub(in crate::layout) fn narrower(&mut self, pattern: &Pattern, best: f64) {
        let mut ways = vec![pattern.clone()];
        for ((section, strip, place), widths) in staves(self.problem, self.stock, pattern) {
            let wider = ways.clone();
            for width in widths {
                let narrowed = wider.iter().cloned().filter_map(|mut way| {
                    let stock = self.stock;
                    way.shape[section][strip].narrow(self.problem, stock, place, width);
                    self.may_pass(way)
                });
                ways.extend(narrowed);
            }
            if ways.len() > MOST {
                self.upper = self.upper.max(best);
                self.keep(pattern.clone(), best, false);
                return;
            }
        }
        // The first is the pattern itself.
        for way in ways.into_iter().skip(1) {
            self.keep_way(way);
        }
    }

    /// A way with the wood it takes on a clear board, if it may be worth enough.
    fn may_pass(&self, mut way: Pattern) -> Option<Pattern> {
        let clear = clear_cost(
            self.stock,
            &self.problem.cuts,
            &outline(self.problem, &way.shape),
        )?;
        way.wood = clear + self.problem.moving(self.index, &way.shape);
        let complete = (self.completion).complete(self.problem, self.index, &way.shape);
        (complete && self.prices.value(self.problem, &way) > self.least).then_some(way)
    }

    fn keep_way(&mut self, way: Pattern) {
        if self.seen.insert(sorted(&way.shape)) {
            self.keep_best_of(way);
        }
    }
}

/// The staves of a pattern, and the narrower widths they may have.
fn staves(problem: &Problem, stock: &Stock, pattern: &Pattern) -> Vec<(Stave, Vec<i64>)> {
    let mut found = Vec::new();
    for (section, strips) in pattern.shape.iter().enumerate() {
        for (strip, shape) in strips.iter().enumerate() {
            for (place, &item) in shape.items.iter().enumerate() {
                if let Some(gluing) = problem.items[item].gluing {
                    let least = problem.items[item].width;
                    let widest = shape.blank_width(problem, stock, place);
                    let step = problem.cuts.glue_step;
                    let mut widths = problem.gluings[gluing].widths(step, least, widest - 1);
                    widths.reverse();
                    found.push(((section, strip, place), widths));
                }
            }
        }
    }
    found
}
