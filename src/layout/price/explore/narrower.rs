//! Staves narrower than the strip they share, where a defect asks for it.

use super::super::super::pattern::{Pattern, sorted};
use super::super::super::place::StripShape;
use super::super::super::problem::{Problem, Stock};
use super::Walk;

/// Ways to narrow the staves of one pattern that are looked at: else it is only hoped for.
const MOST: usize = 200;
/// Strips of a section that are tried in every order.
const MOST_STRIPS: usize = 4;

/// A stave that may be narrower: its section, strip and item.
type Stave = (usize, usize, usize);

impl Walk<'_, '_> {
    /// Keeps what comes of `pattern` when staves that share a strip are as narrow as the defects
    /// beside them ask for. Where the ways are too many it is kept as hoped for, with the cost `wood`
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

/// The staves that share a strip with others, and the widths that the defects suggest for each.
fn staves(problem: &Problem, stock: &Stock, pattern: &Pattern) -> Vec<(Stave, Vec<i64>)> {
    let mut found = Vec::new();
    for (section, strips) in pattern.shape.iter().enumerate() {
        let lows = lows(problem, stock, strips);
        for (strip, shape) in strips.iter().enumerate().filter(|(_, s)| s.items.len() > 1) {
            for (place, &item) in shape.items.iter().enumerate() {
                if problem.items[item].mode.is_none() {
                    continue;
                }
                let widest = shape.blank_width(problem, stock, place);
                let mut widths = beside(stock, shape.width, &lows[strip]);
                widths.push(problem.items[item].width);
                widths.retain(|width| (problem.items[item].width..widest).contains(width));
                widths.sort_unstable();
                widths.dedup();
                found.push(((section, strip, item), widths));
            }
        }
    }
    found
}

/// Widths left below, above and between defects in a strip `wide` at each of `lows`.
fn beside(stock: &Stock, wide: i64, lows: &[i64]) -> Vec<i64> {
    let mut widths = Vec::new();
    for &low in lows {
        let above = stock.zones.iter().map(|zone| zone.low);
        let tops: Vec<i64> = above.chain([low + wide]).collect();
        let below = stock.zones.iter().map(|zone| zone.high);
        for bottom in below.chain([low]).filter(|&bottom| bottom >= low) {
            let within = tops.iter().filter(|&&top| top <= low + wide);
            widths.extend(within.map(|top| top - bottom));
        }
    }
    widths
}

/// Where each strip of a section may lie across the board.
fn lows(problem: &Problem, stock: &Stock, strips: &[StripShape]) -> Vec<Vec<i64>> {
    let mut lows = vec![Vec::new(); strips.len()];
    let loss = problem.cuts.edge;
    if strips.len() <= MOST_STRIPS {
        stack(problem, stock, strips, 0, loss, &mut lows);
    }
    for lows in &mut lows {
        lows.sort_unstable();
        lows.dedup();
    }
    lows
}

/// Stacks the strips not yet `used` from `low` on, in every order.
fn stack(
    problem: &Problem,
    stock: &Stock,
    strips: &[StripShape],
    used: u32,
    low: i64,
    lows: &mut [Vec<i64>],
) {
    let (cuts, zones) = (&problem.cuts, &stock.zones);
    let mut starts = vec![low];
    if used == 0 && cuts.keep_length.is_some() {
        starts.push(cuts.keep_width + cuts.rip);
    }
    starts.extend(zones.iter().map(|zone| zone.high));
    starts.retain(|&start| start >= low);
    for i in (0..strips.len()).filter(|i| used >> i & 1 == 0) {
        let highest = stock.width - cuts.edge - strips[i].width;
        let mut here = starts.clone();
        here.push(highest);
        here.extend(zones.iter().map(|zone| zone.low - strips[i].width));
        here.retain(|&start| (low..=highest).contains(&start));
        for start in here {
            lows[i].push(start);
            let next = start + strips[i].width + cuts.rip;
            stack(problem, stock, strips, used | 1 << i, next, lows);
        }
    }
}
