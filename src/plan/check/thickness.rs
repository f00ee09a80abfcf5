//! Rule 5: what flattening leaves of a warped piece is thick enough for its front.
//!
//! The slab between two parallel planes inside a curved slab of even thickness loses the
//! peak-to-peak height of its face. A hollow measured over the whole board shrinks with the
//! square of the part that is cut from it, as the sagitta of a shallow arc does with its chord
//! (s = c^2 / 8r); wind grows with length times width, as the height of the saddle z = kxy does.

use super::left::Left;
use super::view::{Placed, View};
use super::{Rule, Violation};
use crate::measure::Length;

/// How far a thickness reckoned in floating point may miss its rule, in inches.
const A_NANOMETRE: f64 = 1.0 / 25_400_000.0;

/// Where the saw has begun, what it parted is milled apart, and what is all cut is not asked about.
pub(super) fn check(view: &View) -> Vec<Violation> {
    let allow = &view.job.settings.allowances;
    let safe = allow.shortest_safe;
    let left = Left::new(view.sawn, allow.crosscut_kerf);
    let mut found = Vec::new();
    let lanes = view.lanes();
    let lanes = lanes
        .values()
        .flat_map(|lane| lane.chunk_by(|a, b| left.joined(a, b)));
    for lane in lanes.filter(|lane| !lane.iter().all(|placed| left.is_cut(placed))) {
        if span(lane) < safe {
            found.extend(milled_together(view, lane, safe));
        } else if !some_grouping_works(view, lane, safe) {
            found.extend(no_grouping(view, lane, safe));
        }
    }
    found
}

/// From the first blank's start to the last one's end; blanks lie in the plan's order.
pub(super) fn span(blanks: &[Placed]) -> Length {
    match (blanks.first(), blanks.last()) {
        (Some(first), Some(last)) => last.blank.to - first.blank.from,
        _ => Length::ZERO,
    }
}

/// What is left of a piece of length `long` and this blank's width, once flat, less what the
/// front needs, in inches.
fn spare(view: &View, placed: &Placed, long: Length) -> f64 {
    let board = placed.board;
    let along = long.inches() / board.length.inches();
    let across = placed.width().inches() / board.width.inches();
    let loss = board.bow.inches() * along * along
        + board.cup.inches() * across * across
        + board.twist.inches() * along * across;
    let needed = placed.front.thickness + view.job.settings.allowances.plane * 2;
    board.thickness.inches() - loss - needed.inches()
}

fn thick_enough(view: &View, placed: &Placed, long: Length) -> bool {
    spare(view, placed, long) + A_NANOMETRE >= 0.0
}

/// In how long a piece at most this blank stays thick enough; less than nothing when in none.
pub(super) fn longest_flat(view: &View, placed: &Placed) -> Length {
    let ever = placed
        .board
        .length
        .max(view.job.settings.allowances.shortest_safe);
    if thick_enough(view, placed, ever) {
        return ever;
    }
    let (mut flat, mut too_long) = (-1, ever.nm());
    while too_long - flat > 1 {
        let long = flat + (too_long - flat) / 2;
        if thick_enough(view, placed, Length::from_nm(long)) {
            flat = long;
        } else {
            too_long = long;
        }
    }
    Length::from_nm(flat)
}

/// Whether the lane can be parted into neighbouring groups, each at least the shortest safe
/// length, that leave every front its thickness.
fn some_grouping_works(view: &View, lane: &[Placed], safe: Length) -> bool {
    // reached[n]: the first n blanks can be parted so.
    let mut reached = vec![false; lane.len() + 1];
    reached[0] = true;
    for end in 1..=lane.len() {
        reached[end] = (0..end).any(|start| {
            let group = &lane[start..end];
            let long = span(group);
            reached[start]
                && long >= safe
                && group.iter().all(|placed| thick_enough(view, placed, long))
        });
    }
    reached[lane.len()]
}

fn milled_together(view: &View, lane: &[Placed], long: Length) -> Vec<Violation> {
    let thin = lane
        .iter()
        .filter(|placed| !thick_enough(view, placed, long));
    thin.map(|placed| too_thin(view, placed, long)).collect()
}

/// Names the fronts too thin even by themselves, or the stretch as a whole when it is the
/// grouping of short blanks that fails.
fn no_grouping(view: &View, lane: &[Placed], safe: Length) -> Vec<Violation> {
    let alone = |placed: &Placed| placed.length().max(safe);
    let mut found: Vec<Violation> = lane
        .iter()
        .filter(|placed| !thick_enough(view, placed, alone(placed)))
        .map(|placed| too_thin(view, placed, alone(placed)))
        .collect();
    if found.is_empty() {
        let text = "milled together with its neighbours, too thin once flat".to_owned();
        found.extend(
            lane.first()
                .map(|placed| placed.fault(Rule::Thickness, text)),
        );
    }
    found
}

fn too_thin(view: &View, placed: &Placed, long: Length) -> Violation {
    let missing = Length::from_inches(-spare(view, placed, long));
    let (missing, long) = (view.show(missing), view.show(long));
    placed.fault(
        Rule::Thickness,
        format!("{missing} too thin once {long} of it are flat"),
    )
}
