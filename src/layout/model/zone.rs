//! Where blanks may not lie.

use crate::job::{Board, DefectSide};
use crate::plan::Face;

/// A defect grown by the clear distance: no blank may overlap it.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct Zone {
    pub(in crate::layout) from: i64,
    pub(in crate::layout) to: i64,
    pub(in crate::layout) low: i64,
    pub(in crate::layout) high: i64,
    side: DefectSide,
}

/// An open interval along the board that a blank may not overlap.
pub(in crate::layout) type Blocked = (i64, i64);

/// Both faces, the one a maker would take first in front.
pub(in crate::layout) const FACES: [Face; 2] = [Face::Up, Face::Down];

impl Zone {
    /// The same zone on a board turned end for end.
    pub(in crate::layout) fn mirrored(self, length: i64) -> Zone {
        Zone {
            from: length - self.to,
            to: length - self.from,
            ..self
        }
    }
}

/// The defects of a board, each grown by `clear` along and across.
pub(in crate::layout) fn zones_of(board: &Board, clear: i64) -> Vec<Zone> {
    board
        .defects
        .iter()
        .map(|d| Zone {
            from: d.from.nm() - clear,
            to: d.to.nm() + clear,
            low: d.low.nm() - clear,
            high: d.high.nm() + clear,
            side: d.side,
        })
        .collect()
}

/// What is blocked for blanks between `low` and `high` with `face` showing: sorted, apart.
pub(in crate::layout) fn blocked(zones: &[Zone], low: i64, high: i64, face: Face) -> Vec<Blocked> {
    let mut spans: Vec<Blocked> = zones
        .iter()
        .filter(|z| face.shows(z.side) && z.low < high && z.high > low && z.from < z.to)
        .map(|z| (z.from, z.to))
        .collect();
    spans.sort_unstable();
    let mut merged: Vec<Blocked> = Vec::with_capacity(spans.len());
    for span in spans {
        match merged.last_mut() {
            Some(last) if span.0 < last.1 => last.1 = last.1.max(span.1),
            _ => merged.push(span),
        }
    }
    merged
}
