//! Packs the stretches of one strip along a board with defects.

use crate::layout::geometry::place::stretch::earliest_flat;
use crate::layout::geometry::placed::{PlacedItem, PlacedStrip};
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::StripShape;
use crate::layout::model::stock::Stock;
use crate::layout::model::zone::{FACES, blocked};
use crate::plan::Face;

/// More stretches than this in one strip are packed in the given order only.
const MOST_ORDERED: usize = 7;

/// Whether every order of the stretches of a strip is tried.
pub(in crate::layout) fn in_every_order(strip: &StripShape) -> bool {
    strip.items.len() <= MOST_ORDERED
}

/// A strip with its stretches in place, and where it ends, waste for safe milling included.
#[derive(Clone, Debug)]
pub(in crate::layout) struct PackedStrip {
    pub(in crate::layout) strip: PlacedStrip,
    pub(in crate::layout) to: i64,
}

/// One stretch in place and the stretch of strip it needs, waste for safe milling included.
#[derive(Clone, Debug)]
struct Spot {
    pub(in crate::layout) placed: PlacedItem,
    to: i64,
}

/// The order, faces and directions in which `items` end first, in a strip at `low` that starts
/// at `at` or later.
pub(in crate::layout) fn pack_strip(
    problem: &Problem,
    stock: &Stock,
    shape: &StripShape,
    low: i64,
    at: i64,
) -> Option<PackedStrip> {
    let high = low + shape.width;
    let count = shape.items.len();
    let widths: Vec<i64> = (0..count)
        .map(|place| shape.blank_width(problem, stock, place))
        .collect();
    let spot = |place: usize, at: i64| {
        let blank = (shape.items[place], widths[place]);
        first_spot(problem, stock, blank, (low, high), at)
    };
    let spots = if count > MOST_ORDERED {
        in_order(problem, count, at, spot)?
    } else {
        in_best_order(problem, count, at, spot)?
    };
    Some(PackedStrip {
        to: spots.iter().map(|s| s.to).max()?,
        strip: PlacedStrip {
            low,
            high,
            items: spots.into_iter().map(|s| s.placed).collect(),
        },
    })
}

fn in_order(
    problem: &Problem,
    count: usize,
    mut at: i64,
    spot: impl Fn(usize, i64) -> Option<Spot>,
) -> Option<Vec<Spot>> {
    (0..count)
        .map(|place| {
            let spot = spot(place, at)?;
            at = spot.to + problem.cuts.crosscut;
            Some(spot)
        })
        .collect()
}

/// Dynamic program over subsets: the earliest end of each subset, which is all that matters to
/// the stretches that follow it.
fn in_best_order(
    problem: &Problem,
    count: usize,
    at: i64,
    spot: impl Fn(usize, i64) -> Option<Spot>,
) -> Option<Vec<Spot>> {
    let all = (1_usize << count) - 1;
    let mut best: Vec<Option<(i64, usize, Spot)>> = vec![None; all + 1];
    for set in 0..all {
        let from = match &best[set] {
            _ if set == 0 => at,
            Some((end, _, _)) => end + problem.cuts.crosscut,
            None => continue,
        };
        for i in 0..count {
            if set >> i & 1 == 1 {
                continue;
            }
            let Some(spot) = spot(i, from) else {
                continue;
            };
            let with = set | 1 << i;
            if best[with].as_ref().is_none_or(|(end, _, _)| spot.to < *end) {
                best[with] = Some((spot.to, i, spot));
            }
        }
    }
    let mut spots = Vec::with_capacity(count);
    let mut set = all;
    while set != 0 {
        let (_, i, spot) = best[set].take()?;
        spots.push(spot);
        set &= !(1 << i);
    }
    spots.reverse();
    Some(spots)
}

/// The first spot for `item` in a strip between `low` and `high`, at `at` or later.
fn first_spot(
    problem: &Problem,
    stock: &Stock,
    (item, width): (usize, i64),
    (low, high): (i64, i64),
    at: i64,
) -> Option<Spot> {
    let it = &problem.items[item];
    let safe = it.room - it.length;
    let faces: &[Face] = if stock.one_sided { &FACES } else { &FACES[..1] };
    let directions: &[bool] = if it.lengths.len() > 1 {
        &[false, true]
    } else {
        &[false]
    };
    let mut best: Option<Spot> = None;
    // A blank lies at the strip's low or at its high edge (rule 10c).
    let most = high - width;
    for low in [low].into_iter().chain((most > low).then_some(most)) {
        for &face in faces {
            let blocked = blocked(&stock.zones, low, low + width, face);
            for &reverse in directions {
                let lane = (width, reverse, &blocked[..]);
                let Some(starts) = earliest_flat(problem, stock, it, lane, at) else {
                    continue;
                };
                let n = starts.len();
                let last = it.lengths[if reverse { 0 } else { n - 1 }];
                let (begin, end) = (starts[0], starts[n - 1] + last);
                let to = if safe > 0 && end - begin < it.room {
                    // Wood must lie free around a stretch too short to be milled alone.
                    let from = at.max(end - it.room).min(stock.to - it.room);
                    if from < at {
                        continue;
                    }
                    from + it.room
                } else {
                    end
                };
                if best.as_ref().is_none_or(|b| to < b.to) {
                    let placed = PlacedItem {
                        item,
                        starts,
                        reverse,
                        face,
                        low,
                        width,
                    };
                    best = Some(Spot { placed, to });
                }
            }
        }
    }
    best
}
