//! Arrangements on a board with defects: sections, strips and stretches in every order.

use super::super::geometry::{Placed, PlacedSection, settle};
use super::super::problem::{Problem, Stock};
use super::super::strip::{PackedStrip, pack_strip};
use super::prospects::{Prospects, Reached};
use super::{Shape, StripShape, outline};

/// Search over the order of sections, and of strips within each, on a board with defects.
pub(super) struct Search<'p, 'a> {
    problem: &'p Problem<'a>,
    stock: &'p Stock,
    shape: &'p Shape,
    /// Whether the first arrangement found will do.
    any: bool,
    /// No arrangement costs less.
    least: f64,
    prospects: Prospects<'p>,
    best: Option<Placed>,
}

impl<'p, 'a> Search<'p, 'a> {
    /// The best arrangement with the first section at `at` or later; the first found that costs no
    /// more than `least`.
    pub(super) fn best(
        problem: &'p Problem<'a>,
        stock: &'p Stock,
        shape: &'p Shape,
        (at, least): (i64, f64),
    ) -> Option<Placed> {
        let mut search = Search::new(problem, stock, shape);
        search.least = least;
        search.next(&mut Vec::new(), 0, at);
        search.best
    }

    /// Whether there is an arrangement with the first section at `at` or later.
    pub(super) fn any(
        problem: &'p Problem<'a>,
        stock: &'p Stock,
        shape: &'p Shape,
        at: i64,
    ) -> bool {
        let mut search = Search::new(problem, stock, shape);
        search.any = true;
        search.next(&mut Vec::new(), 0, at);
        search.best.is_some()
    }

    fn new(problem: &'p Problem<'a>, stock: &'p Stock, shape: &'p Shape) -> Search<'p, 'a> {
        Search {
            problem,
            stock,
            shape,
            any: false,
            least: f64::NEG_INFINITY,
            prospects: Prospects::new(stock, &problem.cuts, outline(problem, shape)),
            best: None,
        }
    }

    /// Whether no better arrangement is wanted.
    fn done(&self) -> bool {
        let best = self.best.as_ref();
        best.is_some_and(|best| self.any || best.cost <= self.least)
    }

    /// Whether nothing better can come of what is placed, with the next section at `at` or later.
    fn hopeless(&mut self, placed: &[PlacedSection], used: u64, at: i64) -> bool {
        let reached = Reached::new(self.stock, &self.problem.cuts, placed, at);
        let least = self.prospects.least_cost(&reached, used);
        let best = self.best.as_ref().map_or(f64::INFINITY, |best| best.cost);
        least.is_none_or(|least| least >= best - SAME_COST) || !self.prospects.is_new(reached, used)
    }

    /// Places one more section at `at` or later.
    fn next(&mut self, placed: &mut Vec<PlacedSection>, used: u64, at: i64) {
        if self.done() {
            return;
        }
        if placed.len() == self.shape.len() {
            if self.any {
                self.best = Some(Placed::default());
                return;
            }
            let found = settle(self.stock, &self.problem.cuts, placed.clone());
            if self
                .best
                .as_ref()
                .is_none_or(|b| found.cost < b.cost - SAME_COST)
            {
                self.best = Some(found);
            }
            return;
        }
        if self.hopeless(placed, used, at) {
            return;
        }
        for i in 0..self.shape.len() {
            let unused = |i: usize| used >> i & 1 == 0;
            // Of sections alike the first comes first.
            let alike = |j: usize| unused(j) && self.shape[j] == self.shape[i];
            if !unused(i) || (0..i).any(alike) {
                continue;
            }
            for section in self.arrangements(i, at) {
                let next = section.to + self.problem.cuts.crosscut;
                placed.push(section);
                self.next(placed, used | 1 << i, next);
                placed.pop();
            }
        }
    }

    /// The arrangement of a section that ends first, and the one that uses least wood; each also
    /// made just long enough for its edges to be kept.
    fn arrangements(&self, section: usize, at: i64) -> Vec<PlacedSection> {
        let strips = &self.shape[section];
        let mut stack = Stack {
            problem: self.problem,
            stock: self.stock,
            strips,
            at,
            loss: 0,
            ends_first: None,
            uses_least: None,
        };
        let mut long = outline(self.problem, &vec![strips.clone()])[0].0;
        // A longer section of a crooked board loses more at its edges: settle on a length.
        for _ in 0..3 {
            stack.loss = self.stock.edge_loss(&self.problem.cuts, long);
            (stack.ends_first, stack.uses_least) = (None, None);
            stack.next(&mut Vec::new(), 0, stack.loss);
            match &stack.ends_first {
                Some((_, s)) if s.to - s.from > long && self.stock.crook > 0.0 => {
                    long = s.to - s.from;
                }
                _ => break,
            }
        }
        let cuts = &self.problem.cuts;
        let ends_first = stack.ends_first.map(|(_, s)| s);
        let uses_least = stack.uses_least.map(|(_, s)| s);
        let mut found: Vec<PlacedSection> = Vec::new();
        for s in [ends_first, uses_least].into_iter().flatten() {
            let same = found
                .iter()
                .any(|f| f.to == s.to && f.strips[0].low == s.strips[0].low);
            if !same && s.fits_edges(self.stock, cuts, s.from, s.to) {
                found.push(s);
            }
        }
        if !self.any {
            let longer: Vec<_> = found.iter().filter_map(|s| self.long_enough(s)).collect();
            found.extend(longer);
        }
        found
    }

    /// The same section reaching on until its edges are long enough to keep, where they are wide
    /// enough and it is shorter: what follows it must make room.
    fn long_enough(&self, section: &PlacedSection) -> Option<PlacedSection> {
        let cuts = &self.problem.cuts;
        let to = section.from + cuts.keep_length?;
        let reaches = to > section.to
            && to <= self.stock.to
            && section.edge_width(self.stock, cuts) > 0
            && section.fits_edges(self.stock, cuts, section.from, to);
        reaches.then(|| PlacedSection {
            to,
            ..section.clone()
        })
    }
}

/// Arrangements that differ by less cost the same.
const SAME_COST: f64 = 1e-12;

/// Search over the strips of one section, stacked from the near edge.
struct Stack<'p, 'a> {
    problem: &'p Problem<'a>,
    stock: &'p Stock,
    strips: &'p [StripShape],
    at: i64,
    loss: i64,
    ends_first: Option<(i64, PlacedSection)>,
    uses_least: Option<(f64, PlacedSection)>,
}

impl Stack<'_, '_> {
    /// Puts one more strip at `low` or higher.
    fn next(&mut self, placed: &mut Vec<PackedStrip>, used: u64, low: i64) {
        if placed.len() == self.strips.len() {
            self.finish(placed);
            return;
        }
        let rest: i64 = (0..self.strips.len())
            .filter(|i| used >> i & 1 == 0)
            .map(|i| self.strips[i].width + self.problem.cuts.rip)
            .sum();
        let highest = self.stock.width - self.loss - (rest - self.problem.cuts.rip);
        for low in self.lows(low, highest, placed.is_empty()) {
            for i in 0..self.strips.len() {
                if used >> i & 1 == 1 {
                    continue;
                }
                let packed = pack_strip(self.problem, self.stock, &self.strips[i], low, self.at);
                let Some(strip) = packed else { continue };
                let next = strip.strip.high + self.problem.cuts.rip;
                placed.push(strip);
                self.next(placed, used | 1 << i, next);
                placed.pop();
            }
        }
    }

    /// Starts across the board worth trying: as low as can be, just above or just below each
    /// defect, as high as can be, and where an edge below is just wide enough to keep.
    fn lows(&self, least: i64, most: i64, first: bool) -> Vec<i64> {
        let mut lows = vec![least, most];
        if first && self.problem.cuts.keep_length.is_some() {
            lows.push(self.problem.cuts.keep_width + self.problem.cuts.rip);
        }
        for zone in &self.stock.zones {
            lows.push(zone.high);
            lows.extend(self.strips.iter().map(|s| zone.low - s.width));
        }
        lows.retain(|&low| low >= least && low <= most);
        lows.sort_unstable();
        lows.dedup();
        lows
    }

    fn finish(&mut self, placed: &[PackedStrip]) {
        let from = placed.iter().map(|s| s.from).min().unwrap_or(self.at);
        let to = placed.iter().map(|s| s.to).max().unwrap_or(self.at);
        let section = PlacedSection {
            from,
            to,
            strips: placed.iter().map(|s| s.strip.clone()).collect(),
        };
        if self.ends_first.as_ref().is_none_or(|(end, _)| to < *end) {
            self.ends_first = Some((to, section.clone()));
        }
        let used = (to - self.at) as f64 * self.stock.width as f64 - self.edge_area(&section);
        if self
            .uses_least
            .as_ref()
            .is_none_or(|(least, _)| used < *least)
        {
            self.uses_least = Some((used, section));
        }
    }

    /// Wood that may be kept beside the strips of a section, which can be made long enough.
    fn edge_area(&self, section: &PlacedSection) -> f64 {
        let cuts = &self.problem.cuts;
        let Some(keep) = cuts.keep_length else {
            return 0.0;
        };
        let (Some(first), Some(last)) = (section.strips.first(), section.strips.last()) else {
            return 0.0;
        };
        let low = first.low - cuts.rip;
        let high = self.stock.width - last.high - cuts.rip;
        let wide: i64 = [low, high]
            .into_iter()
            .filter(|&w| w >= cuts.keep_width)
            .sum();
        wide as f64 * (section.to - section.from).max(keep) as f64
    }
}
