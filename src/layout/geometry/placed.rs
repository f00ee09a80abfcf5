//! A board pattern with every coordinate, and what it keeps and costs.

use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::stock::Stock;
use crate::measure::Length;
use crate::plan::{Face, Kept};

/// A board cut up. Coordinates are nanometres from the hook end and the near edge.
#[derive(Clone, Debug, Default)]
pub(in crate::layout) struct Placed {
    pub(in crate::layout) cost: f64,
    pub(in crate::layout) sections: Vec<PlacedSection>,
    pub(in crate::layout) kept: Vec<Kept>,
}

#[derive(Clone, Debug)]
pub(in crate::layout) struct PlacedSection {
    pub(in crate::layout) from: i64,
    pub(in crate::layout) to: i64,
    pub(in crate::layout) strips: Vec<PlacedStrip>,
}

#[derive(Clone, Debug)]
pub(in crate::layout) struct PlacedStrip {
    pub(in crate::layout) low: i64,
    pub(in crate::layout) high: i64,
    pub(in crate::layout) items: Vec<PlacedItem>,
}

#[derive(Clone, Debug)]
pub(in crate::layout) struct PlacedItem {
    pub(in crate::layout) item: usize,
    /// Blank starts, in order along the board.
    pub(in crate::layout) starts: Vec<i64>,
    /// Whether the run's last front lies nearest the hook end.
    pub(in crate::layout) reverse: bool,
    pub(in crate::layout) face: Face,
    pub(in crate::layout) low: i64,
    pub(in crate::layout) width: i64,
}

impl PlacedSection {
    /// Wood beside the strips, low and high, after the rip; zero where too narrow to keep.
    fn edges(&self, stock: &Stock, cuts: &SawRules) -> (i64, i64) {
        let keep = |width: i64| {
            if width >= cuts.keep_width.max(1) {
                width
            } else {
                0
            }
        };
        match (self.strips.first(), self.strips.last()) {
            (Some(first), Some(last)) => (
                keep(first.low - cuts.rip),
                keep(stock.width - last.high - cuts.rip),
            ),
            _ => (0, 0),
        }
    }
}

/// Sections with their places, what is kept of the board and what it costs.
pub(in crate::layout) fn measured(
    stock: &Stock,
    cuts: &SawRules,
    sections: Vec<PlacedSection>,
) -> Placed {
    let kept = kept_pieces(stock, cuts, &sections);
    Placed {
        cost: cost(stock, &kept),
        kept,
        sections,
    }
}

fn cost(stock: &Stock, kept: &[Kept]) -> f64 {
    let area: f64 = kept
        .iter()
        .map(|k| (k.to - k.from).nm() as f64 * (k.high - k.low).nm() as f64)
        .sum();
    stock.whole - stock.kept_rate * area
}

/// Rule 6: the ends and edges large enough to go back on the rack.
fn kept_pieces(stock: &Stock, cuts: &SawRules, sections: &[PlacedSection]) -> Vec<Kept> {
    let mut kept = Vec::new();
    let Some(keep) = cuts.keep_length else {
        return kept;
    };
    let mut add = |from: i64, to: i64, low: i64, high: i64| {
        if to - from >= keep.max(1) && high - low >= cuts.keep_width.max(1) {
            kept.push(Kept {
                from: Length::from_nm(from),
                to: Length::from_nm(to),
                low: Length::from_nm(low),
                high: Length::from_nm(high),
            });
        }
    };
    if let (Some(first), Some(last)) = (sections.first(), sections.last()) {
        if stock.ends[0] {
            add(stock.from, first.from - cuts.crosscut, 0, stock.width);
        }
        for section in sections {
            let (low, high) = section.edges(stock, cuts);
            add(section.from, section.to, 0, low);
            add(section.from, section.to, stock.width - high, stock.width);
        }
        if stock.ends[1] {
            add(last.to + cuts.crosscut, stock.to, 0, stock.width);
        }
    }
    kept
}

/// Least cost of sections of the given lengths and strip widths (cuts between strips counted) on
/// a board without defects, or nothing when they do not fit.
///
/// Equals the cost of the best arrangement; computed without building one because
/// the search asks for it millions of times.
pub(in crate::layout) fn clear_cost(
    stock: &Stock,
    cuts: &SawRules,
    sections: &[(i64, i64)],
) -> Option<f64> {
    let cutting = cuts.crosscut * (sections.len() as i64 - 1).max(0);
    let total: i64 = sections.iter().map(|s| s.0).sum::<i64>() + cutting;
    let fits = |&(long, wide): &(i64, i64)| wide <= stock.width - 2 * stock.edge_loss(cuts, long);
    if total > stock.usable() || !sections.iter().all(fits) {
        return None;
    }
    let Some(keep) = cuts.keep_length.filter(|_| stock.kept_rate > 0.0) else {
        return Some(stock.whole);
    };
    let short: Vec<usize> = (0..sections.len())
        .filter(|&i| sections[i].0 < keep && edge(stock, cuts, sections[i].1, keep) > 0)
        .take(MOST_SHORT)
        .collect();
    let mut best = 0.0_f64;
    for choice in 0..1_u32 << short.len() {
        let longer = |i: usize| {
            let at = short.iter().position(|&s| s == i);
            at.is_some_and(|at| choice >> at & 1 == 1)
        };
        let long = |i: usize| if longer(i) { keep } else { sections[i].0 };
        let total: i64 = (0..sections.len()).map(long).sum::<i64>() + cutting;
        if total <= stock.usable() {
            best = best.max(kept_area(
                stock,
                cuts,
                sections,
                long,
                stock.usable() - total,
            ));
        }
    }
    Some(stock.whole - stock.kept_rate * best)
}

/// Area kept when section `i` is `long(i)` and `spare` wood is left along the board.
fn kept_area(
    stock: &Stock,
    cuts: &SawRules,
    sections: &[(i64, i64)],
    long: impl Fn(usize) -> i64,
    spare: i64,
) -> f64 {
    let keep = cuts.keep_length.unwrap_or(i64::MAX);
    let area = |i: usize, long: i64| {
        if long < keep {
            return 0.0;
        }
        long as f64 * edge(stock, cuts, sections[i].1, long) as f64
    };
    let edges: f64 = (0..sections.len()).map(|i| area(i, long(i))).sum();
    let end = spare - cuts.crosscut;
    let may_be_kept = stock.ends != [false; 2] && stock.width >= cuts.keep_width;
    let end = if may_be_kept && end >= keep.max(1) {
        end as f64 * stock.width as f64
    } else {
        0.0
    };
    let stretched = (0..sections.len())
        .map(|i| area(i, long(i) + spare) - area(i, long(i)))
        .fold(0.0, f64::max);
    edges + end.max(stretched)
}

/// Widest kept edge beside strips `wide` in all, in a section `long`: one edge, or both.
pub(in crate::layout) fn edge(stock: &Stock, cuts: &SawRules, wide: i64, long: i64) -> i64 {
    edge_past(stock, cuts, wide, stock.edge_loss(cuts, long))
}

/// The same where either edge loses `loss` to crook.
///
/// Strips lie side by side. Pushed to one edge, as far as the other loses, they leave the widest single
/// edge; both edges are kept where the strips fit between two that are each wide enough.
pub(in crate::layout) fn edge_past(stock: &Stock, cuts: &SawRules, wide: i64, loss: i64) -> i64 {
    if wide > stock.width - 2 * loss {
        return 0;
    }
    let one = stock.width - loss - wide - cuts.rip;
    let one = if one >= cuts.keep_width.max(1) {
        one
    } else {
        0
    };
    let two = if wide + 2 * both_kept(cuts, loss) <= stock.width {
        stock.width - wide - 2 * cuts.rip
    } else {
        0
    };
    one.max(two)
}

/// How far the strips must lie from an edge for it to be kept.
pub(in crate::layout) fn both_kept(cuts: &SawRules, loss: i64) -> i64 {
    loss.max(cuts.keep_width.max(1) + cuts.rip)
}

/// Sections made longer for their edges that are looked at in every combination: more never fit a board
/// unless kept pieces are very short.
const MOST_SHORT: usize = 12;
