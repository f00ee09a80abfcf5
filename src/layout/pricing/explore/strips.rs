//! The strips of a section: the first sets its length, the others lie beside it.

use crate::layout::geometry::placed::edge;
use crate::layout::model::history::Part;
use crate::layout::model::shape::StripShape;
use crate::layout::pricing::explore::lane::Lane;
use crate::layout::pricing::explore::walk::Walk;

impl Walk<'_, '_> {
    /// Whether too little is left, by area, of a section begun of which `filled` is cut, and after it.
    fn too_small(&mut self, lane: &Lane, filled: f64, paid: f64) -> bool {
        let area = self.area.of(lane.section_left) - filled;
        self.hopeless(paid, lane.edges + self.by_area(area, lane.section_left))
    }

    /// One more item in the strip being filled, from position `from` of the chain on; `long` is
    /// its length so far.
    pub(in crate::layout) fn strip(
        &mut self,
        lane: &Lane,
        items: &mut Vec<usize>,
        from: usize,
        long: i64,
        paid: f64,
    ) {
        let height = self.tables.classes[lane.class].height;
        if !items.is_empty() && self.fills(height, items) {
            self.close_strip(lane, items, long, paid);
        }
        let crosscut = self.problem.cuts.crosscut;
        let start = if items.is_empty() { 0 } else { long + crosscut };
        let begun = self.area.strip(start - crosscut, height);
        if self.too_small(lane, self.filled + begun, paid) {
            return;
        }
        let tables = self.tables;
        let (edges, beside, mut growth);
        match &lane.then {
            Some(then) => {
                growth = tables.first_growth(lane.class, start, then);
                edges = lane.edges;
            }
            None => {
                let (section, _) = self.outline[self.outline.len() - 1];
                let wide = lane.wide_left - self.problem.cuts.rip;
                let after = self.after_section(lane, &self.behind(lane, section));
                beside = [tables.rest_in(wide, tables.cells(section)) + after];
                growth = tables.growth(lane.class, lane.longest - start, &beside);
                edges = 0.0;
            }
        }
        for position in from..tables.moves.len() {
            if self.spent() || !growth.passes(position, |growth| self.passes(paid, edges + growth))
            {
                return;
            }
            for m in &tables.moves[position] {
                if m.blank_width(height) < m.width
                    || m.width > height
                    || start + m.room - crosscut > lane.longest
                    || !self.free(m)
                {
                    continue;
                }
                if !self.wide_enough(m, height) {
                    continue;
                }
                let price = m.price_in(height);
                if !self.owes(price) {
                    continue;
                }
                let paid = paid + price - m.toll_at_least();
                let rest = self.rest;
                self.rest = self.without(m);
                self.take(m, true);
                self.given.take(m, height);
                items.extend(std::iter::repeat_n(m.item, m.times));
                self.strip(lane, items, m.next, start + m.room - crosscut, paid);
                items.truncate(items.len() - m.times);
                self.given.give_back(m);
                self.take(m, false);
                self.rest = rest;
                self.owed -= price.min(0.0);
            }
        }
    }

    /// The strip is full: on to the next one of the section, or to the next section.
    fn close_strip(&mut self, lane: &Lane, items: &[usize], long: i64, paid: f64) {
        let height = self.tables.classes[lane.class].height;
        let at = self.shape.len() - 1;
        let before = self.outline[at];
        let rip = self.problem.cuts.rip;
        self.shape[at].push(StripShape {
            width: height,
            items: items.to_vec(),
            narrower: Vec::new(),
        });
        self.outline[at] = if lane.then.is_some() {
            (long, height)
        } else {
            (before.0, before.1 + rip + height)
        };
        let section = self.outline[at].0;
        let filled = self.filled;
        self.filled += self.area.strip(section, height);
        self.beside_strips(lane, section, paid);
        self.filled = 0.0;
        if !self.in_lane(at) && !self.may_widen(at) {
            let left = lane.section_left - section - self.problem.cuts.crosscut;
            self.sections(left, section, paid);
        }
        self.filled = filled;
        self.shape[at].pop();
        self.outline[at] = before;
    }

    /// Whether a strip this wide leaves room for another beside it, or for an edge to keep.
    pub(in crate::layout) fn shares_width(&self, height: i64, wide_left: i64) -> bool {
        if self.stock.part == Part::Strip {
            return false;
        }
        let cuts = &self.problem.cuts;
        let narrowest = self.tables.classes.first().map_or(0, |c| c.height);
        wide_left >= narrowest + cuts.rip
            || cuts
                .keep_length
                .is_some_and(|keep| edge(self.stock, cuts, height, keep) > 0)
    }

    /// One more strip in the same section, no wider than the last one unless that was the first.
    fn beside_strips(&mut self, lane: &Lane, section: i64, paid: f64) {
        if self.too_small(lane, self.filled, paid) {
            return;
        }
        let rip = self.problem.cuts.rip;
        let last = if lane.then.is_some() {
            self.tables.classes.len() - 1
        } else {
            lane.class
        };
        let (cells, behind) = (self.tables.cells(section), self.behind(lane, section));
        for class in (0..=last).rev() {
            let next = Lane {
                class,
                section_left: lane.section_left,
                longest: section,
                then: None,
                wide_left: lane.wide_left - rip - self.tables.classes[class].height,
                edges: lane.edges,
                widest: lane.widest,
            };
            if next.wide_left < 0 {
                continue;
            }
            let more = self.tables.strip_in(class, cells)
                + self.tables.rest_in(next.wide_left - rip, cells)
                + self.after_section(&next, &behind);
            if self.passes(paid, more) {
                self.strip(&next, &mut Vec::new(), 0, 0, paid);
            }
        }
    }
}
