//! The arrangement that keeps most on a board without defects.

use crate::layout::geometry::placed::{
    Placed, PlacedItem, PlacedSection, PlacedStrip, both_kept, edge, measured,
};
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::{Shape, StripShape, outline};
use crate::layout::model::stock::Stock;
use crate::plan::Face;

/// A clear board: sections side by side from the hook end, strips from the near edge. Sections
/// with an edge to keep may be made long enough for that, and one may take up all unused wood.
pub(in crate::layout) fn place_clear(
    problem: &Problem,
    stock: &Stock,
    shape: &Shape,
) -> Option<Placed> {
    let cuts = &problem.cuts;
    let outline = outline(problem, shape);
    let keep = cuts.keep_length.unwrap_or(0);
    let keeps = |i: usize| keep > 0 && edge(stock, cuts, outline[i].1, outline[i].0.max(keep)) > 0;
    let edged: Vec<usize> = (0..shape.len()).filter(|&i| keeps(i)).take(12).collect();
    let mut best: Option<Placed> = None;
    for choice in 0..1_u32 << edged.len() {
        let mut longs: Vec<i64> = outline.iter().map(|&(long, _)| long).collect();
        for (nth, &i) in edged.iter().enumerate() {
            if choice >> nth & 1 == 1 {
                longs[i] = longs[i].max(keep);
            }
        }
        let cutting = cuts.crosscut * (shape.len() as i64 - 1);
        let spare = stock.usable() - longs.iter().sum::<i64>() - cutting;
        if spare < 0 {
            continue;
        }
        for filler in edged.iter().map(|&i| Some(i)).chain([None]) {
            let mut longs = longs.clone();
            if let Some(i) = filler {
                longs[i] += spare;
            }
            let placed = clear_board(problem, stock, shape, &outline, &longs);
            if best.as_ref().is_none_or(|b| placed.cost < b.cost - 1e-12) {
                best = Some(placed);
            }
        }
    }
    best
}

/// A clear board with sections of the given lengths.
fn clear_board(
    problem: &Problem,
    stock: &Stock,
    shape: &Shape,
    outline: &[(i64, i64)],
    longs: &[i64],
) -> Placed {
    let mut at = stock.from;
    let sections = shape
        .iter()
        .zip(outline.iter().zip(longs))
        .map(|(strips, (&(_, wide), &long))| {
            let section = clear_section(problem, stock, strips, wide, at, long);
            at += long + problem.cuts.crosscut;
            section
        })
        .collect();
    measured(stock, &problem.cuts, sections)
}

/// One section of a clear board, `long` from `at`.
fn clear_section(
    problem: &Problem,
    stock: &Stock,
    strips: &[StripShape],
    wide: i64,
    at: i64,
    long: i64,
) -> PlacedSection {
    let cuts = &problem.cuts;
    let loss = stock.edge_loss(cuts, long);
    let middle = both_kept(cuts, loss);
    let keeps_both =
        cuts.keep_length.is_some_and(|keep| long >= keep) && wide + 2 * middle <= stock.width;
    let one = stock.width - loss - wide - cuts.rip;
    // Where one edge takes all there is, the strips lie by the near edge.
    let gains = keeps_both && stock.width - wide - 2 * cuts.rip > one;
    let mut low = if gains { middle } else { loss };
    let strips = strips
        .iter()
        .map(|strip| {
            let high = low + strip.width;
            let mut from = at;
            let items = strip
                .items
                .iter()
                .enumerate()
                .map(|(place, &item)| {
                    let it = &problem.items[item];
                    let placed = PlacedItem {
                        item,
                        starts: tight_starts(&it.lengths, &it.gaps, from),
                        reverse: false,
                        face: Face::Up,
                        low,
                        width: strip.blank_width(problem, stock, place),
                    };
                    from += it.room + cuts.crosscut;
                    placed
                })
                .collect();
            let strip = PlacedStrip { low, high, items };
            low = high + cuts.rip;
            strip
        })
        .collect();
    PlacedSection {
        from: at,
        to: at + long,
        strips,
    }
}

pub(in crate::layout) fn tight_starts(lengths: &[i64], gaps: &[i64], from: i64) -> Vec<i64> {
    let mut at = from;
    (0..lengths.len())
        .map(|i| {
            let start = at;
            at += lengths[i] + gaps.get(i).copied().unwrap_or(0);
            start
        })
        .collect()
}
