//! What is cut already, and what may still be.

use crate::layout::geometry::placed::edge;
use crate::layout::model::shape::{Shape, StripShape};
use crate::layout::pricing::area::Worths;
use crate::layout::pricing::explore::walk::Walk;
use crate::layout::pricing::tables::moves::Move;

impl Walk<'_, '_> {
    /// Adds an item's price to what the pattern owes if it is less than nothing; false when it would
    /// owe more than a pattern that counts can, see [`crate::layout::pricing::board::price_above`].
    pub(in crate::layout) fn owes(&mut self, price: f64) -> bool {
        let owed = self.owed + price.min(0.0);
        let may = price >= 0.0 || owed > self.floor;
        if may {
            self.owed = owed;
        }
        may
    }

    /// Whether a strip is as wide as its widest blank (rule 10c).
    pub(in crate::layout) fn fills(&self, height: i64, items: &[usize]) -> bool {
        let wide = |&item: &usize| self.problem.blank_width(self.stock, item, height);
        items.iter().any(|item| wide(item) == height)
    }

    /// Whether the item's fronts are not yet cut on this board, or only as staves of its own gluing.
    pub(in crate::layout) fn free(&self, m: &Move) -> bool {
        let it = &self.problem.items[m.item];
        let alike = self.problem.identical.count(it.rows.start);
        if alike > 1 {
            return self.identical[it.rows.start] + m.times <= alike;
        }
        if let Some(gluing) = it.gluing
            && self.staves[gluing] > 0
        {
            return self.staves[gluing] + m.times <= m.most;
        }
        !it.rows.clone().any(|row| self.used[row])
    }

    /// Whether the staves of the item's gluing can be wide enough together with as many more from a strip `wide`.
    pub(in crate::layout) fn wide_enough(&self, m: &Move, wide: i64) -> bool {
        let Some(gluing) = self.problem.items[m.item].gluing else {
            return true;
        };
        let mut together = m.times as i64 * m.blank_width(wide);
        if !self.wanted(gluing, m.times, together) {
            return false;
        }
        let count = self.staves[gluing] + m.times;
        // No stave is narrower than the narrowest strip for it.
        let least = together + self.staves[gluing] as i64 * m.width;
        let enough =
            |together: i64| (self.completion).enough(self.problem, gluing, (count, together));
        if self.staves[gluing] == 0 || enough(least) {
            return enough(least);
        }
        for strip in self.shape.iter().flatten() {
            let count = strip.items.iter().filter(|&&i| i == m.item).count();
            if count > 0 {
                together += count as i64 * self.stave(m.item, strip.width);
            }
        }
        enough(together)
    }

    /// Width of a stave in a strip.
    pub(in crate::layout) fn stave(&self, item: usize, strip: i64) -> i64 {
        self.problem.blank_width(self.stock, item, strip)
    }

    /// Widest stave of a gluing that the board gives.
    pub(in crate::layout) fn widest_of(&self, gluing: usize) -> i64 {
        let of = &self.problem.gluings[gluing];
        of.widest.min(self.stock.widest[of.item])
    }

    /// What the fronts not cut yet are worth more than their area once the item is taken.
    pub(in crate::layout) fn without(&self, m: &Move) -> Worths {
        let gluing = self.problem.items[m.item].gluing;
        let before = gluing.map_or(0, |gluing| self.staves[gluing]);
        self.area.without(self.problem, m, before, self.rest)
    }

    pub(in crate::layout) fn take(&mut self, m: &Move, take: bool) {
        let it = &self.problem.items[m.item];
        let counted = |before: usize| {
            if take {
                before + m.times
            } else {
                before - m.times
            }
        };
        if self.problem.identical.count(it.rows.start) > 1 {
            self.identical[it.rows.start] = counted(self.identical[it.rows.start]);
            return;
        }
        let mut mark = true;
        if let Some(gluing) = it.gluing {
            let before = self.staves[gluing];
            self.staves[gluing] = counted(before);
            // The fronts stay taken as long as any stave of them is.
            mark = before == 0 || self.staves[gluing] == 0;
        }
        if mark {
            it.rows.clone().for_each(|row| self.used[row] = take);
        }
    }

    /// Whether a section is one the lane has already, or can stand in for: a single item that leaves
    /// nothing to keep beside it, or a stave as wide as can be.
    pub(in crate::layout) fn in_lane(&self, at: usize) -> bool {
        let [strip] = &self.shape[at][..] else {
            return false;
        };
        let [item] = strip.items[..] else {
            return false;
        };
        let Some(gluing) = self.problem.items[item].gluing else {
            return true;
        };
        let (cuts, long) = (&self.problem.cuts, self.outline[at].0);
        let full = self.stock.width - 2 * self.stock.edge_loss(cuts, long);
        let widest = self.problem.gluings[gluing]
            .widest
            .min(self.stock.widest[item]);
        let keeps = |keep: i64| edge(self.stock, cuts, strip.width, long.max(keep)) > 0;
        let narrow = cuts.keep_length.is_some_and(keeps);
        !narrow || strip.width >= full.min(widest)
    }

    /// Whether two sections have the same strip widths, and both would do as one: also where that is longer,
    /// and loses more to crook. Not where defects may keep the strips of the two in different places.
    pub(in crate::layout) fn repeats(&self, shape: &Shape) -> bool {
        if !self.stock.zones.is_empty() {
            return false;
        }
        let rip = self.problem.cuts.rip;
        let loss = self
            .stock
            .edge_loss(&self.problem.cuts, self.stock.usable());
        let widths = |section: &Vec<StripShape>| -> Vec<i64> {
            let mut widths: Vec<i64> = section.iter().map(|s| s.width).collect();
            widths.sort_unstable();
            widths
        };
        (1..shape.len()).any(|at| {
            let here = widths(&shape[at]);
            let wide = here.iter().map(|width| width + rip).sum::<i64>() - rip;
            wide <= self.stock.width - 2 * loss
                && shape[..at]
                    .iter()
                    .any(|s| (s.len() > 1 || s[0].items.len() > 1) && widths(s) == here)
        })
    }
}
