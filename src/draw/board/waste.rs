//! The X on the waste side of each line, as it is chalked in the shop.

use super::band::Band;
use super::marks::{Numbered, wasted_before};
use super::view::View;
use crate::draw::shape::{Point, Rect};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::measure::Length;

/// Half the width of an X.
const ARM: f64 = 3.2;
/// An X needs so much room beside its line.
const ROOM: f64 = 2.0 * ARM + 3.0;
/// Farthest an X stands from its line.
const FAR: f64 = 8.0;

/// Draws the crosses of all marks that are still to be cut. Between lines a kerf apart there is
/// only the kerf, and nothing to mark.
pub fn crosses(drawing: &mut Drawing, view: &View, band: &Band, marks: &[Numbered]) {
    for numbered in marks.iter().filter(|n| !n.mark.done) {
        let mark = &numbered.mark;
        let before = wasted_before(view, mark);
        let centre = match mark.is_across() {
            true if band.shows(mark.along.0) => {
                across(view, band, mark.along.0, mark.across, before)
            }
            true => None,
            false => along(view, band, mark.across.0, mark.along, before),
        };
        if let Some(centre) = centre {
            cross(drawing, centre, ARM);
        }
    }
}

/// Two strokes through a point.
pub fn cross(drawing: &mut Drawing, at: Point, arm: f64) {
    for side in [-1.0, 1.0] {
        let from = Point::new(at.x - arm, at.y - arm * side);
        let to = Point::new(at.x + arm, at.y + arm * side);
        drawing.line(from, to, theme::THICK, theme::INK);
    }
}

/// Beside a line across, in the waste; none where that is a kerf.
fn across(
    view: &View,
    band: &Band,
    at: Length,
    (low, high): (Length, Length),
    before: bool,
) -> Option<Point> {
    let beside = |b: (Length, Length)| b.0 < high && low < b.1;
    let blanks = view.blanks().filter(|b| beside((b.low, b.high)));
    let kept = view.cut.kept.iter().filter(|k| beside((k.low, k.high)));
    let solid = blanks
        .map(|b| (b.from, b.to))
        .chain(kept.map(|k| (k.from, k.to)));
    let (room, out) = free(solid, at, view.board.length, before);
    let room = room.inches() * band.scale;
    // Beyond the board's end stands that end's name, in the middle.
    let share = if room < ROOM { 0.14 } else { 0.5 };
    let y = band.y(low) * (1.0 - share) + band.y(high) * share;
    place(room, out).map(|off| {
        let x = band.x(at) + if before { -off } else { off };
        Point::new(x, y)
    })
}

/// Beside a line along, in the waste, near the end of its section that shows.
fn along(
    view: &View,
    band: &Band,
    at: Length,
    (from, to): (Length, Length),
    before: bool,
) -> Option<Point> {
    let rect: Rect = band.rect((from, to), (at, at))?;
    let beside = |b: (Length, Length)| b.0 < to && from < b.1;
    let blanks = view.blanks().filter(|b| beside((b.from, b.to)));
    let kept = view.cut.kept.iter().filter(|k| beside((k.from, k.to)));
    let solid = blanks
        .map(|b| (b.low, b.high))
        .chain(kept.map(|k| (k.low, k.high)));
    let (room, out) = free(solid, at, view.board.width, before);
    place(room.inches() * band.tall, out).map(|off| {
        let y = band.y(at) + if before { off } else { -off };
        Point::new(rect.centre().x, y)
    })
}

/// How much waste there is beside a line, and whether it reaches the board's edge.
fn free(
    solid: impl Iterator<Item = (Length, Length)>,
    at: Length,
    whole: Length,
    before: bool,
) -> (Length, bool) {
    let rooms = solid.filter_map(|(from, to)| match before {
        true => (to <= at).then(|| at - to),
        false => (from >= at).then(|| from - at),
    });
    let edge = if before { at } else { whole - at };
    match rooms.min() {
        Some(room) if room < edge => (room, false),
        _ => (edge, true),
    }
}

/// How far from its line an X stands: in the middle of narrow waste, beyond the board's edge where
/// that is next, nowhere in a kerf.
fn place(room: f64, reaches_edge: bool) -> Option<f64> {
    if room >= ROOM {
        Some((room / 2.0).min(FAR))
    } else if reaches_edge {
        Some(room + ARM + 2.0)
    } else {
        None
    }
}
