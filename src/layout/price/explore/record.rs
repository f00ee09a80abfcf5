//! Records the patterns worth keeping.

use super::super::super::geometry::{clear_cost, edge};
use super::super::super::pattern::{Pattern, sorted};
use super::super::super::place::{Shape, StripShape, place};
use super::super::Valued;
use super::Walk;

impl Walk<'_, '_> {
    /// Records the pattern made so far, with `left` nanometres of board behind it, when its true value
    /// passes the threshold.
    pub(super) fn finish(&mut self, left: i64, paid: f64) {
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
        for shape in self.widened() {
            self.record(shape, clear);
        }
    }

    /// Records a shape that takes the wood `clear` where there are no defects.
    fn record(&mut self, shape: Shape, clear: f64) {
        let shape = sorted(&shape);
        if !self.seen.insert(shape.clone()) {
            return;
        }
        let moving = self.problem.moving(self.index, &shape);
        let clear = clear + moving;
        let mut pattern = Pattern {
            stock: self.index,
            shape,
            wood: clear,
        };
        let hoped = self.prices.value(self.problem, &pattern);
        if hoped <= self.least {
            return;
        }
        // What costs more is worth no more than the threshold.
        let enough = clear + hoped - self.least;
        let known = (self.costs).wood_below(self.problem, self.index, &pattern.shape, enough);
        let wood = known.found;
        let value = wood.map(|wood| hoped - (wood - clear));
        let best = hoped - (known.least - clear);
        if best > self.least && value.is_none_or(|value| best > value + 1e-9) {
            let hoped = Pattern {
                wood: known.least,
                ..pattern.clone()
            };
            self.upper = self.upper.max(best);
            self.keep(hoped, best, false);
        }
        if value.is_none_or(|value| value < hoped - 1e-9)
            && let Some(best) = self.with_narrow_staves(&pattern, hoped - moving)
            && best > self.least
            && value.is_none_or(|value| best > value + 1e-9)
        {
            self.narrower(&pattern, clear + hoped - best, best);
        }
        if let (Some(value), Some(wood)) = (value, wood)
            && value > self.least
        {
            pattern.wood = wood;
            self.upper = self.upper.max(value);
            self.keep(pattern, value, true);
        }
    }

    pub(super) fn keep(&mut self, pattern: Pattern, value: f64, sure: bool) {
        self.found.push(Valued {
            pattern,
            value,
            sure,
        });
        if self.found.len() >= 2 * self.limit.found {
            self.keep_best();
        }
    }

    /// Most that a pattern held up by defects could be worth if staves that share a strip with
    /// others were narrower than it, which is not searched: paid in full, but as easy to place as
    /// the narrowest. Nothing when there are no such staves, or it still does not fit. A stave
    /// alone in a strip is narrower in a pattern with a narrower strip.
    pub(super) fn with_narrow_staves(&self, pattern: &Pattern, hoped: f64) -> Option<f64> {
        let stave = |&item: &usize| self.problem.items[item].mode.is_some();
        let mut narrow = self.stock.clone();
        let mut any = false;
        for strip in pattern.strips().filter(|s| s.items.len() > 1) {
            for &item in strip.items.iter().filter(|i| stave(i)) {
                narrow.widest[item] = self.problem.items[item].width;
                any = true;
            }
        }
        if !any {
            return None;
        }
        let wood = place(self.problem, &narrow, &pattern.shape, f64::INFINITY)
            .placed?
            .cost;
        Some(hoped - (wood - pattern.wood))
    }

    /// The shape with width that would be wasted given to staves, those that are paid most for it first:
    /// once only to those that are paid for it, and once to the others too, which a plan may have need of
    /// all the same. Those that are not too narrow even so, and in which no two sections would do as one.
    fn widened(&self) -> Vec<Shape> {
        let paid = self.widened_if(&|pay| pay > 0.0);
        let all = self.widened_if(&|_| true);
        let mut shapes = vec![all];
        if paid != shapes[0] {
            shapes.push(paid);
        }
        shapes.retain(|shape| {
            !self.repeats(shape) && self.sisters.complete(self.problem, self.index, shape)
        });
        shapes
    }

    fn widened_if(&self, good: &dyn Fn(f64) -> bool) -> Shape {
        let mut shape = self.shape.clone();
        for (section, &(long, wide)) in shape.iter_mut().zip(&self.outline) {
            let mut spare = self.spare(long, wide);
            for i in self.by_pay(section, good) {
                let strip = &mut section[i];
                let more = (self.use_for(strip) - strip.width).clamp(0, spare);
                strip.width += more;
                spare -= more;
            }
        }
        shape
    }

    /// Width that would be wasted beside strips `wide` in a section `long`.
    fn spare(&self, long: i64, wide: i64) -> i64 {
        let cuts = &self.problem.cuts;
        let edge = edge(self.stock, cuts, wide, long);
        if edge > 0 && cuts.keep_length.is_some_and(|keep| long >= keep) {
            return 0;
        }
        (self.stock.width - 2 * self.stock.edge_loss(cuts, long) - wide).max(0)
    }

    /// What the staves of a strip are paid for width.
    fn pay(&self, strip: &StripShape) -> f64 {
        let modes = strip
            .items
            .iter()
            .filter_map(|&i| self.problem.items[i].mode);
        let pays = |mode: usize| {
            let sisters = self.prices.sisters[mode].iter();
            self.prices.width[mode] + sisters.map(|sister| sister.gain).sum::<f64>()
        };
        modes.map(pays).sum()
    }

    /// The strips of a section whose pay for width is `good`, the best paid first.
    fn by_pay(&self, section: &[StripShape], good: &dyn Fn(f64) -> bool) -> Vec<usize> {
        let pay = |strip| self.pay(strip);
        let mut order: Vec<usize> = (0..section.len()).collect();
        order.retain(|&i| good(pay(&section[i])));
        order.sort_by(|&a, &b| pay(&section[b]).total_cmp(&pay(&section[a])));
        order
    }

    /// The widest strip that staves of this one have a use for.
    fn use_for(&self, strip: &StripShape) -> i64 {
        let of = |&item: &usize| match self.problem.items[item].mode {
            Some(mode) => self.problem.modes[mode].widest.min(self.stock.widest[item]),
            None => 0,
        };
        strip.items.iter().map(of).max().unwrap_or(0)
    }

    /// Whether a section comes out as one with a wider strip does: there is room for the next width of
    /// the strip that would be given the rest.
    pub(super) fn may_widen(&self, at: usize) -> bool {
        let (long, wide) = self.outline[at];
        let spare = self.spare(long, wide);
        // The best paid, of equals the first: asked far too often to sort them.
        let mut first: Option<(f64, &StripShape)> = None;
        for strip in &self.shape[at] {
            let pay = self.pay(strip);
            let better = pay > first.map_or(0.0, |(best, _)| best);
            if better && self.use_for(strip) > strip.width {
                first = Some((pay, strip));
            }
        }
        first.is_some_and(|(_, strip)| {
            let most = (strip.width + spare).min(self.use_for(strip));
            self.next_width(strip.width)
                .is_some_and(|next| next <= most)
        })
    }

    pub(super) fn keep_best(&mut self) {
        self.found.sort_by(|a, b| b.value.total_cmp(&a.value));
        self.found.truncate(self.limit.found);
        if self.limit.best_only {
            self.least = self.found[self.limit.found - 1].value.max(self.least);
        } else {
            self.cut_short = true;
        }
    }
}
