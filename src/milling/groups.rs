//! Which blanks of a stretch go over the jointer as one piece.

use crate::job::{Board, Front};
use crate::measure::Length;

/// One piece as it is flattened: consecutive blanks of a stretch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Milled {
    /// First blank, by position along the board.
    pub first: usize,
    /// Last blank.
    pub last: usize,
    /// Length flattened: from the first blank's start to the last one's end, or the shortest
    /// safe length when the whole stretch is shorter.
    pub long: Length,
}

/// How a stretch is split into pieces for flattening, or nothing when some front comes out too
/// thin however it is split.
///
/// `spans` are the blanks' starts and ends along the board, in order; `fits(first, last, long)`
/// says whether a piece holding those blanks, that long, keeps enough thickness for all of them.
/// A piece is at least `shortest` long and as short as can be, so the split with most pieces is
/// taken; a stretch shorter than `shortest` is one piece that long, waste included.
pub fn milled_together(
    spans: &[(Length, Length)],
    shortest: Length,
    fits: impl Fn(usize, usize, Length) -> bool,
) -> Option<Vec<Milled>> {
    let (start, end) = (spans.first()?.0, spans.last()?.1);
    if end - start < shortest {
        let last = spans.len() - 1;
        return fits(0, last, shortest).then(|| {
            vec![Milled {
                first: 0,
                last,
                long: shortest,
            }]
        });
    }
    // best[i]: most pieces the first i blanks can be split into, and where the last one starts.
    let mut best: Vec<Option<(usize, usize)>> = vec![None; spans.len() + 1];
    best[0] = Some((0, 0));
    for stop in 1..=spans.len() {
        for first in (0..stop).rev() {
            let long = spans[stop - 1].1 - spans[first].0;
            let Some((pieces, _)) = best[first] else {
                continue;
            };
            let better = best[stop].is_none_or(|(most, _)| pieces + 1 > most);
            if long >= shortest && better && fits(first, stop - 1, long) {
                best[stop] = Some((pieces + 1, first));
            }
        }
    }
    let mut split = Vec::new();
    let mut stop = spans.len();
    while stop > 0 {
        let (_, first) = best[stop]?;
        split.push(Milled {
            first,
            last: stop - 1,
            long: spans[stop - 1].1 - spans[first].0,
        });
        stop = first;
    }
    split.reverse();
    Some(split)
}

/// Whether every front of a stretch comes out thick enough from `board`: `fronts` in order along
/// the board, their blanks' `spans` along it, all `wide` across.
pub fn thick_enough(
    board: &Board,
    fronts: &[&Front],
    spans: &[(Length, Length)],
    wide: Length,
    plane: Length,
    shortest: Length,
) -> bool {
    milled_together(spans, shortest, |first, last, long| {
        fronts[first..=last]
            .iter()
            .all(|front| super::flat_enough(board, front, plane, long, wide))
    })
    .is_some()
}
