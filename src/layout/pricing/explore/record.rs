//! Records the patterns worth keeping.

use crate::layout::geometry::placed::{clear_cost, edge};
use crate::layout::model::pattern::{Pattern, sorted};
use crate::layout::model::shape::Shape;
use crate::layout::pricing::explore::walk::Walk;
use crate::layout::pricing::priced::Valued;

impl Walk<'_, '_> {
    /// Records the pattern made so far, with `left` nanometres of board behind it, when its true value
    /// passes the threshold.
    pub(in crate::layout) fn finish(&mut self, left: i64, paid: f64) {
        let paid = paid - self.given.over;
        let most = paid + self.edges_kept() + self.unused(left) - self.fixed;
        if most <= self.least || !self.done() {
            return;
        }
        self.note(paid);
        let cuts = &self.problem.cuts;
        let Some(clear) = clear_cost(self.stock, cuts, &self.outline) else {
            return;
        };
        // What is paid counts staves as wide as they could ever be here.
        if paid - clear + self.prices.place(self.index) <= self.least {
            return;
        }
        let repeats = self.repeats(&self.shape);
        if !repeats
            && self
                .completion
                .complete(self.problem, self.index, &self.shape)
            && self.is_plain()
        {
            self.record(self.shape.clone(), clear);
        }
    }

    /// Records a shape that takes the wood `clear` where there are no defects.
    fn record(&mut self, shape: Shape, clear: f64) {
        let shape = sorted(&shape);
        if !self.seen.insert(shape.clone()) {
            return;
        }
        let moving = self.problem.moving(self.index, &shape);
        let pattern = Pattern {
            stock: self.index,
            shape,
            wood: clear + moving,
        };
        let hoped = self.prices.value(self.problem, &pattern);
        if hoped <= self.least {
            return;
        }
        let value = self.keep_best_of(pattern.clone());
        // Held up by defects or cup: narrower staves may do better.
        if value.is_none_or(|value| value < hoped - 1e-9) {
            self.narrower(&pattern, hoped);
        }
    }

    /// Keeps a pattern in its best arrangement, and where that is not sure what it may be worth at most; its
    /// `wood` is what it takes on a clear board. What it is worth, as far as it is known to be cut so.
    pub(in crate::layout) fn keep_best_of(&mut self, pattern: Pattern) -> Option<f64> {
        let hoped = self.prices.value(self.problem, &pattern);
        // What costs more is worth no more than the threshold.
        let enough = pattern.wood + hoped - self.least;
        let known = (self.costs).wood_below(self.problem, self.index, &pattern.shape, enough);
        let worth = |wood: f64| hoped - (wood - pattern.wood);
        let value = known.found.map(worth);
        let best = worth(known.least);
        if best > self.least && value.is_none_or(|value| best > value + 1e-9) {
            let hoped = Pattern {
                wood: known.least,
                ..pattern.clone()
            };
            self.upper = self.upper.max(best);
            self.keep(hoped, best, false);
        }
        if let (Some(value), Some(wood)) = (value, known.found)
            && value > self.least
        {
            self.upper = self.upper.max(value);
            self.keep(Pattern { wood, ..pattern }, value, true);
        }
        value
    }

    pub(in crate::layout) fn keep(&mut self, pattern: Pattern, value: f64, sure: bool) {
        self.found.push(Valued {
            pattern,
            value,
            sure,
        });
        if self.found.len() >= 2 * self.limit.found {
            self.keep_best();
        }
    }

    /// Whether every strip as wide as a whole board of another length is one that is not crooked, or of that
    /// length: else a stave in it is of no width it may have (rule 10d).
    fn is_plain(&self) -> bool {
        if self.stock.crook == 0.0 {
            return true;
        }
        let cuts = &self.problem.cuts;
        self.shape
            .iter()
            .zip(&self.outline)
            .all(|(strips, &(long, _))| {
                let here = self.stock.width - 2 * self.stock.edge_loss(cuts, long);
                strips.iter().all(|strip| {
                    let odd = |&item: &usize| {
                        let gluing = self.problem.items[item].gluing;
                        let widest = |gluing: usize| {
                            let of = &self.problem.gluings[gluing];
                            of.widest_in(cuts.glue_step, strip.width, false)
                        };
                        gluing.is_some_and(|gluing| widest(gluing) < strip.width)
                            && self.stave(item, strip.width) == strip.width
                    };
                    strip.width == here || !strip.items.iter().any(odd)
                })
            })
    }

    /// Width that would be wasted beside strips `wide` in a section `long`: none where an edge may be kept.
    fn spare(&self, long: i64, wide: i64) -> i64 {
        let cuts = &self.problem.cuts;
        let may_keep = |keep: i64| edge(self.stock, cuts, wide, long.max(keep)) > 0;
        if cuts.keep_length.is_some_and(may_keep) {
            return 0;
        }
        (self.stock.width - 2 * self.stock.edge_loss(cuts, long) - wide).max(0)
    }

    /// Whether a strip of a section might as well, but for defects and cup, be as wide as the next width
    /// there is, for the sake of its staves: then it stands in another pattern as that.
    pub(in crate::layout) fn may_widen(&self, at: usize) -> bool {
        let (long, wide) = self.outline[at];
        let spare = self.spare(long, wide);
        if spare == 0 {
            return false;
        }
        let classes = &self.tables.classes;
        self.shape[at].iter().any(|strip| {
            let wider = classes.partition_point(|class| class.height <= strip.width);
            let mut wider = classes[wider..].iter().map(|class| class.height);
            // All of its blanks are staves: none keeps the strip from being wider.
            let staves = strip
                .items
                .iter()
                .all(|&i| self.problem.items[i].gluing.is_some());
            let room = wider.find(|&next| strip.items.iter().any(|&i| self.stave(i, next) == next));
            staves && room.is_some_and(|next| next <= strip.width + spare)
        })
    }

    pub(in crate::layout) fn keep_best(&mut self) {
        self.found.sort_by(|a, b| b.value.total_cmp(&a.value));
        self.found.truncate(self.limit.found);
        if self.limit.best_only {
            self.least = self.found[self.limit.found - 1].value.max(self.least);
        } else {
            self.cut_short = true;
        }
    }
}
