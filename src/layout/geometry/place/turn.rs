//! A board hooked at its other end, and what is found there measured from the real hook end.

use crate::layout::geometry::placed::{PlacedItem, PlacedSection, PlacedStrip};
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;

/// The same board hooked at its other end.
pub(in crate::layout) fn turned(stock: &Stock) -> Stock {
    Stock {
        zones: (stock.zones.iter())
            .map(|zone| zone.mirrored(stock.length))
            .collect(),
        ends: [stock.ends[1], stock.ends[0]],
        from: stock.length - stock.to,
        to: stock.length - stock.from,
        ..stock.clone()
    }
}

/// Sections found on the turned board, in order from the real hook end.
pub(in crate::layout) fn turn_sections(
    problem: &Problem,
    length: i64,
    sections: Vec<PlacedSection>,
) -> Vec<PlacedSection> {
    let turn = |section: PlacedSection| PlacedSection {
        from: length - section.to,
        to: length - section.from,
        strips: (section.strips.into_iter())
            .map(|strip| turn_strip(problem, length, strip))
            .collect(),
    };
    sections.into_iter().rev().map(turn).collect()
}

pub(in crate::layout) fn turn_strip(
    problem: &Problem,
    length: i64,
    mut strip: PlacedStrip,
) -> PlacedStrip {
    strip.items.reverse();
    for placed in &mut strip.items {
        let spans = crate::layout::geometry::place::spans::spans(problem, placed);
        let starts = spans.iter().rev().map(|&(_, to)| length - to).collect();
        *placed = PlacedItem {
            starts,
            reverse: !placed.reverse,
            ..placed.clone()
        };
    }
    strip
}
