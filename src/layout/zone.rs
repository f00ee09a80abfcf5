//! Where blanks may not lie, and where along a board a row of blanks fits in between.

use crate::job::{Board, DefectSide};
use crate::plan::Face;

use super::problem::Item;

/// A defect grown by the clear distance: no blank may overlap it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Zone {
    pub(super) from: i64,
    pub(super) to: i64,
    pub(super) low: i64,
    pub(super) high: i64,
    side: DefectSide,
}

/// An open interval along the board that a blank may not overlap.
pub(super) type Blocked = (i64, i64);

/// Both faces, the one a maker would take first in front.
pub(super) const FACES: [Face; 2] = [Face::Up, Face::Down];

impl Zone {
    fn shows_on(&self, face: Face) -> bool {
        matches!(
            (self.side, face),
            (DefectSide::Both, _) | (DefectSide::Up, Face::Up) | (DefectSide::Down, Face::Down)
        )
    }

    /// The same zone on a board turned end for end.
    pub(super) fn mirrored(self, length: i64) -> Zone {
        Zone {
            from: length - self.to,
            to: length - self.from,
            ..self
        }
    }
}

/// The defects of a board, each grown by `clear` along and across.
pub(super) fn zones_of(board: &Board, clear: i64) -> Vec<Zone> {
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
pub(super) fn blocked(zones: &[Zone], low: i64, high: i64, face: Face) -> Vec<Blocked> {
    let mut spans: Vec<Blocked> = zones
        .iter()
        .filter(|z| z.shows_on(face) && z.low < high && z.high > low && z.from < z.to)
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

/// Starts of `item`'s blanks, in order along the board, such that the last one ends as early as
/// can be; the first starts at `from` or later, the last ends at `limit` or before.
///
/// `reverse` puts the run's last front first. Sets of possible starts are carried from blank to
/// blank as intervals, so the answer is exact.
pub(super) fn earliest(
    item: &Item,
    reverse: bool,
    blocked: &[Blocked],
    from: i64,
    limit: i64,
) -> Option<Vec<i64>> {
    let n = item.lengths.len();
    let nth = |i: usize| if reverse { n - 1 - i } else { i };
    let length = |i: usize| item.lengths[nth(i)];
    let gap = |i: usize| item.gaps[if reverse { n - 2 - i } else { i }];
    if blocked.is_empty() {
        let mut starts = Vec::with_capacity(n);
        let mut at = from;
        for i in 0..n {
            starts.push(at);
            at += length(i) + if i + 1 < n { gap(i) } else { 0 };
        }
        return (at <= limit).then_some(starts);
    }
    let mut sets = Vec::with_capacity(n);
    sets.push(free_starts(
        blocked,
        length(0),
        &[(from, limit - length(0))],
    ));
    for i in 1..n {
        let shifted: Vec<(i64, i64)> = sets[i - 1]
            .iter()
            .map(|&(a, b)| {
                let next = length(i - 1);
                (
                    a + next + gap(i - 1),
                    b + next + item.widest_gap.max(gap(i - 1)),
                )
            })
            .map(|(a, b)| (a, b.min(limit - length(i))))
            .collect();
        sets.push(free_starts(blocked, length(i), &shifted));
    }
    let mut starts = vec![0; n];
    starts[n - 1] = sets[n - 1].first()?.0;
    for i in (0..n - 1).rev() {
        let latest = starts[i + 1] - length(i) - gap(i);
        starts[i] = sets[i]
            .iter()
            .rev()
            .find(|&&(a, _)| a <= latest)
            .map(|&(_, b)| b.min(latest))?;
    }
    Some(starts)
}

/// The parts of `wanted` where a blank `length` long may start, sorted.
fn free_starts(blocked: &[Blocked], length: i64, wanted: &[(i64, i64)]) -> Vec<(i64, i64)> {
    let mut free = Vec::new();
    for &(first, last) in wanted {
        let mut at = first;
        for &(from, to) in blocked {
            // Starts strictly between from - length and to would overlap.
            let before = from - length;
            if to <= at {
                continue;
            }
            if before >= at && at <= last {
                free.push((at, before.min(last)));
            }
            at = at.max(to);
        }
        if at <= last {
            free.push((at, last));
        }
    }
    free.sort_unstable();
    free
}
