//! What can still come of a half-made arrangement on a board with defects.

use std::collections::HashMap;

use super::super::geometry::{PlacedSection, edge};
use super::super::problem::{Cuts, Stock};

/// What there is to know of some sections placed to judge those that follow.
pub(super) struct Reached {
    /// Where the next section starts at the soonest.
    at: i64,
    /// Area kept at the hook end; at most, before the first section lies.
    end: f64,
    /// Area kept beside the sections, as they lie.
    edges: f64,
    /// The same at most, were each as long as those beside it leave room for; the last as it lies.
    stretched: f64,
    /// Area kept beside the last were it to reach to the end of the board, over what `stretched`
    /// counts.
    last: f64,
}

impl Reached {
    pub(super) fn new(stock: &Stock, cuts: &Cuts, placed: &[PlacedSection], at: i64) -> Reached {
        let keep = cuts.keep_length.unwrap_or(i64::MAX).max(1);
        let wide = stock.width as f64;
        let end = match placed.first() {
            // All before the first section may still be kept.
            None => at - stock.from,
            Some(first) => {
                let long = first.from - cuts.crosscut - stock.from;
                let kept = stock.ends[0] && long >= keep && stock.width >= cuts.keep_width;
                if kept { long } else { 0 }
            }
        };
        let mut reached = Reached {
            at,
            end: end as f64 * wide,
            edges: 0.0,
            stretched: 0.0,
            last: 0.0,
        };
        for (i, section) in placed.iter().enumerate() {
            let edge = section.edge_width(stock, cuts) as f64;
            let before = i.checked_sub(1).map_or(stock.from, |b| placed[b].to);
            let after = placed.get(i + 1).map_or(section.to, |next| next.from);
            let long = section.to - section.from;
            if long >= keep {
                reached.edges += edge * long as f64;
            }
            reached.stretched += edge * (after - before) as f64;
            reached.last = edge * (stock.to - section.to) as f64;
        }
        reached
    }

    /// Whether whatever may follow `other` may follow this, and keeps no less.
    fn no_worse(&self, other: &Reached) -> bool {
        let most = other.stretched + other.last;
        self.at <= other.at && self.end >= other.end && self.edges >= most
    }
}

/// Prospects of the half-made arrangements of one pattern on one board.
pub(super) struct Prospects<'p> {
    stock: &'p Stock,
    cuts: &'p Cuts,
    /// Length and width of each section on a clear board, and its widest edge worth keeping.
    sections: Vec<(i64, i64)>,
    edges: Vec<i64>,
    /// What was reached before with the same sections.
    seen: HashMap<u64, Vec<Reached>>,
}

impl<'p> Prospects<'p> {
    pub(super) fn new(
        stock: &'p Stock,
        cuts: &'p Cuts,
        sections: Vec<(i64, i64)>,
    ) -> Prospects<'p> {
        let edge_of = |&(long, wide): &(i64, i64)| edge(stock, cuts, wide, long);
        Prospects {
            stock,
            cuts,
            edges: sections.iter().map(edge_of).collect(),
            sections,
            seen: HashMap::new(),
        }
    }

    /// No arrangement with the sections `used` placed so costs less; nothing when there is no room
    /// for the others.
    pub(super) fn least_cost(&self, reached: &Reached, used: u64) -> Option<f64> {
        let rest = (0..self.sections.len()).filter(|i| used >> i & 1 == 0);
        let (mut long, mut edges) = (0, 0.0);
        for i in rest {
            long += self.sections[i].0 + self.cuts.crosscut;
            edges += self.sections[i].0 as f64 * self.edges[i] as f64;
        }
        let spare = self.stock.to - reached.at - (long - self.cuts.crosscut);
        if spare < 0 {
            return None;
        }
        let Some(_) = self.cuts.keep_length else {
            return Some(self.stock.whole);
        };
        // Whatever is left along the board is kept at its whole width at most.
        let kept = reached.end + reached.stretched + edges + spare as f64 * self.stock.width as f64;
        Some(self.stock.whole - self.stock.kept_rate * kept)
    }

    /// Whether nothing as good was reached before with the same sections; remembers it if so.
    pub(super) fn is_new(&mut self, reached: Reached, used: u64) -> bool {
        let seen = self.seen.entry(used).or_default();
        let new = !seen.iter().any(|before| before.no_worse(&reached));
        if new {
            seen.push(reached);
        }
        new
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Shape, StripShape, outline, place};
    use super::*;
    use crate::job::generate::{Size, generate};
    use crate::layout::problem::Problem;

    /// Sections of one front each, as many as there is room for, from the first that fits on.
    fn shape(problem: &Problem, stock: &Stock, first: usize) -> Shape {
        let rows = problem.chain.len();
        let items = (first..first + rows).map(|row| problem.starts[row % rows].start);
        let mut shape = Shape::new();
        for item in items.filter(|&item| stock.widest[item] > 0) {
            let mut longer = shape.clone();
            longer.push(vec![StripShape::of(item, problem.items[item].width)]);
            if place(problem, stock, &longer).is_some() {
                shape = longer;
            }
        }
        shape
    }

    #[test]
    fn no_arrangement_costs_less_than_half_of_it_promised() {
        let mut looked_at = 0;
        for seed in 0..12 {
            let size = Size {
                fronts: 6,
                runs: 3,
                boards: 5,
            };
            let job = generate(size, seed);
            let problem = Problem::new(&job, false);
            let cuts = &problem.cuts;
            for stock in problem.stock.iter().filter(|stock| !stock.zones.is_empty()) {
                let shape = shape(&problem, stock, seed as usize);
                let Some(placed) = place(&problem, stock, &shape) else {
                    continue;
                };
                let prospects = Prospects::new(stock, cuts, outline(&problem, &shape));
                let mut used = 0;
                for (count, section) in placed.sections.iter().enumerate() {
                    let item = section.strips[0].items[0].item;
                    let at = shape.iter().position(|s| s[0].items[0] == item);
                    used |= 1 << at.expect("a section of the shape");
                    let next = section.to + cuts.crosscut;
                    let reached = Reached::new(stock, cuts, &placed.sections[..=count], next);
                    let least = prospects.least_cost(&reached, used);
                    assert!(least.expect("room for the rest") <= placed.cost + 1e-9);
                    looked_at += 1;
                }
            }
        }
        assert!(looked_at > 50, "{looked_at}");
    }

    #[test]
    fn what_keeps_no_less_and_ends_no_later_stands_in() {
        let reached = |at: i64, edges: f64, last: f64| Reached {
            at,
            end: 0.0,
            edges,
            stretched: edges,
            last,
        };
        assert!(reached(5, 2.0, 0.0).no_worse(&reached(6, 2.0, 0.0)));
        assert!(!reached(7, 2.0, 0.0).no_worse(&reached(6, 2.0, 0.0)));
        // The other might keep more beside its last section yet.
        assert!(!reached(5, 2.0, 0.0).no_worse(&reached(6, 2.0, 1.0)));
    }
}
