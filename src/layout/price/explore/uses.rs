//! What is cut already, and what may still be.

use super::super::super::geometry::edge;
use super::super::super::place::{Shape, StripShape};
use super::super::Sister;
use super::super::area::Worths;
use super::super::tables::Move;
use super::Walk;

impl Walk<'_, '_> {
    /// Adds an item's price to what the pattern owes if it is less than nothing; false when it would
    /// owe more than a pattern that counts can, see [`super::price_above`].
    pub(super) fn owes(&mut self, price: f64) -> bool {
        let owed = self.owed + price.min(0.0);
        let may = price >= 0.0 || owed > self.floor;
        if may {
            self.owed = owed;
        }
        may
    }

    /// Takes a strip of a width left over by sisters, or gives it back; false when one is taken
    /// already: one in a pattern is enough.
    pub(super) fn take_left(&mut self, class: usize, take: bool) -> bool {
        if !self.tables.classes[class].left {
            return true;
        }
        let may = self.left != take;
        self.left = take;
        may
    }

    /// Whether a strip this wide is not wider than its items have use for.
    pub(super) fn fills(&self, height: i64, items: &[usize]) -> bool {
        items.iter().any(|&i| match self.problem.items[i].mode {
            Some(_) => true,
            None => self.problem.items[i].width == height,
        })
    }

    /// Whether the item's fronts are not yet cut on this board, or only as staves of its own mode.
    pub(super) fn free(&self, m: &Move) -> bool {
        let it = &self.problem.items[m.item];
        let alike = self.problem.twins.count(it.rows.start);
        if alike > 1 {
            return self.twins[it.rows.start] + m.times <= alike;
        }
        if let Some(mode) = it.mode
            && self.staves[mode] > 0
        {
            return self.staves[mode] + m.times <= m.most;
        }
        !it.rows.clone().any(|row| self.used[row])
    }

    /// Whether the staves of the item's mode can be wide enough together with as many more from a strip
    /// `wide`, which may be made `spare` wider.
    pub(super) fn wide_enough(&self, m: &Move, wide: i64, spare: i64) -> bool {
        let Some(mode) = self.problem.items[m.item].mode else {
            return true;
        };
        let last = self.shape.len().saturating_sub(1);
        let mut together = m.times as i64 * self.widest_stave(mode, wide, spare);
        if !self.wanted(mode, m.times, together) {
            return false;
        }
        let count = self.staves[mode] + m.times;
        // No stave is narrower than the narrowest strip for it.
        let least = together + self.staves[mode] as i64 * m.width;
        let enough = |together: i64| (self.sisters).enough(self.problem, mode, (count, together));
        if self.staves[mode] == 0 || enough(least) {
            return enough(least);
        }
        for (at, section) in self.shape.iter().enumerate() {
            let spare = if at == last { spare } else { self.beside(at) };
            for strip in section {
                let count = strip.items.iter().filter(|&&i| i == m.item).count();
                if count > 0 {
                    together += count as i64 * self.widest_stave(mode, strip.width, spare);
                }
            }
        }
        enough(together)
    }

    /// Width left beside the strips of a closed section.
    pub(super) fn beside(&self, at: usize) -> i64 {
        self.stock.width - 2 * self.problem.cuts.edge - self.outline[at].1
    }

    /// Widest stave of a mode in a strip `wide` with `spare` width beside it. A strip that may be as wide
    /// as the next width there is stands in another pattern as that.
    pub(super) fn widest_stave(&self, mode: usize, wide: i64, spare: i64) -> i64 {
        let most = self.next_width(wide).map_or(i64::MAX, |next| next - 1);
        (wide + spare.max(0))
            .min(most.max(wide))
            .min(self.widest_of(mode))
    }

    /// Widest stave of a mode that the board gives.
    pub(super) fn widest_of(&self, mode: usize) -> i64 {
        let of = &self.problem.modes[mode];
        of.widest.min(self.stock.widest[of.item])
    }

    /// The next wider width a strip may have in any pattern.
    pub(super) fn next_width(&self, wide: i64) -> Option<i64> {
        let offered = &self.tables.offered;
        let wider = offered.partition_point(|&offered| offered <= wide);
        offered.get(wider).copied()
    }

    /// How much wider a strip may turn out, with `spare` width beside it.
    pub(super) fn slack(&self, class: usize, spare: i64) -> i64 {
        let class = &self.tables.classes[class];
        spare.min(class.slack).max(self.tables.slack)
    }

    /// What the staves of a section were paid for width that is not there after all.
    pub(super) fn overpaid(&self, at: usize) -> f64 {
        let (cuts, strips) = (&self.problem.cuts, &self.shape[at]);
        let all = self.stock.width - 2 * cuts.edge;
        let spare = all - self.outline[at].1;
        let (mut over, mut left) = (0.0, all + cuts.rip);
        for strip in strips {
            left -= strip.width + cuts.rip;
            let class = (self.tables.classes).partition_point(|class| class.height < strip.width);
            let paid = [left, spare].map(|spare| strip.width + self.slack(class, spare));
            if paid[0] > paid[1] {
                let of = |&item: &usize| {
                    let [then, now] = paid.map(|wide| self.stave_price(item, wide));
                    (then - now).max(0.0)
                };
                over += strip.items.iter().map(of).sum::<f64>();
            }
        }
        over
    }

    /// Price of the width of an item.
    fn stave_price(&self, item: usize, wide: i64) -> f64 {
        let Some(mode) = self.problem.items[item].mode else {
            return 0.0;
        };
        let wide = (self.problem.modes[mode].widest)
            .min(self.stock.widest[item])
            .min(wide);
        let sisters = Sister::of(&self.prices.sisters[mode], wide);
        self.prices.width[mode] * wide as f64 + sisters
    }

    /// What the fronts not cut yet are worth more than their area once the item is taken.
    pub(super) fn without(&self, m: &Move) -> Worths {
        let mode = self.problem.items[m.item].mode;
        let before = mode.map_or(0, |mode| self.staves[mode]);
        self.area.without(self.problem, m, before, self.rest)
    }

    pub(super) fn take(&mut self, m: &Move, take: bool) {
        let it = &self.problem.items[m.item];
        let counted = |before: usize| {
            if take {
                before + m.times
            } else {
                before - m.times
            }
        };
        if self.problem.twins.count(it.rows.start) > 1 {
            self.twins[it.rows.start] = counted(self.twins[it.rows.start]);
            return;
        }
        let mut mark = true;
        if let Some(mode) = it.mode {
            let before = self.staves[mode];
            self.staves[mode] = counted(before);
            // The fronts stay taken as long as any stave of them is.
            mark = before == 0 || self.staves[mode] == 0;
        }
        if mark {
            it.rows.clone().for_each(|row| self.used[row] = take);
        }
    }

    /// Whether a section is one the lane has already, or can stand in for: a single item that leaves
    /// nothing to keep beside it, or a stave as wide as can be.
    pub(super) fn in_lane(&self, at: usize) -> bool {
        let [strip] = &self.shape[at][..] else {
            return false;
        };
        let [item] = strip.items[..] else {
            return false;
        };
        let Some(mode) = self.problem.items[item].mode else {
            return true;
        };
        let (cuts, long) = (&self.problem.cuts, self.outline[at].0);
        let full = self.stock.width - 2 * self.stock.edge_loss(cuts, long);
        let widest = self.problem.modes[mode].widest.min(self.stock.widest[item]);
        let keeps = |keep: i64| edge(self.stock, cuts, strip.width, long.max(keep)) > 0;
        let narrow = !self.stock.zones.is_empty() || cuts.keep_length.is_some_and(keeps);
        !narrow || strip.width >= full.min(widest)
    }

    /// Whether two sections have the same strip widths, and both would do as one: also where that is longer,
    /// and loses more to crook. Not where defects may keep the strips of the two in different places.
    pub(super) fn repeats(&self, shape: &Shape) -> bool {
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
