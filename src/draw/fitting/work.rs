//! What is done to a front: its bevel's inner edge, its centre lines and holes.

use super::place::Taken;
use super::view::View;
use super::{APART, FRONT_TONE};
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::fit::Fitted;

/// Radius a hole is drawn with at least.
const HOLE: f64 = 1.4;

/// Draws the bevels' inner edges. Gives the room within, for words; nothing when there is none.
pub fn bevel(drawing: &mut Drawing, fitted: &Fitted, view: &View) -> Option<Rect> {
    let Some(bevel) = &fitted.bevel else {
        return Some(inside(&view.polygon(&fitted.outline)));
    };
    let face = bevel.bevel.face.mm();
    let by = bevel.on.map(|on| if on { face } else { 0.0 });
    let inner = view.inset(&fitted.outline, &by)?;
    drawing.outline(inner.clone(), 0.5, theme::FAINT);
    Some(inside(&inner))
}

/// Draws the opening that a front covers, as far within it as openings are drawn outside. Gives
/// the room within.
pub fn hidden_opening(drawing: &mut Drawing, fitted: &Fitted, view: &View) -> Rect {
    let inner = view.around(&fitted.outline, -APART);
    let next = inner.iter().cycle().skip(1);
    for (&a, &b) in inner.iter().zip(next) {
        drawing.dashes(a, b, 2.0, 0.4, theme::FAINT);
    }
    inside(&inner)
}

/// The largest upright rectangle within a front's outline that reaches down to its bottom and
/// up to its lower upper corner.
fn inside(outline: &[Point]) -> Rect {
    let all = Rect::around(outline);
    let [lower_left, lower_right, upper_right, .., upper_left] = outline else {
        return all;
    };
    Rect::new(
        lower_left.x.max(upper_left.x),
        upper_left.y.max(upper_right.y),
        lower_right.x.min(upper_right.x),
        lower_left.y.min(lower_right.y),
    )
}

/// Draws centre lines and holes. Gives the boxes around the holes.
pub fn pulls(drawing: &mut Drawing, fitted: &Fitted, view: &View) -> Vec<Rect> {
    let Some(marks) = &fitted.pulls else {
        return Vec::new();
    };
    let quad = &fitted.outline.quad;
    let (middle, level) = (quad.lower_right.x / 2.0, marks.level.mm());
    let top = fitted.outline.height();
    let ink = theme::TRIANGLE;
    drawing.dashes(view.at(middle, 0.0), view.at(middle, top), 5.0, 0.4, ink);
    let (left, right) = (view.at(0.0, level), view.at(quad.lower_right.x, level));
    drawing.dashes(left, right, 5.0, 0.4, ink);
    let radius = (marks.diameter.mm() / 2.0 * view.scale).max(HOLE);
    let holes = marks.holes.iter().map(|hole| {
        let centre = view.at(hole.at.x, hole.at.y);
        drawing.area(disc(centre, radius), theme::INK);
        Rect::new(centre.x, centre.y, centre.x, centre.y).inset(-radius)
    });
    holes.collect()
}

fn disc(centre: Point, radius: f64) -> Vec<Point> {
    let rim = |i: i32| {
        let turn = f64::from(i) * std::f64::consts::TAU / 24.0;
        Point::new(
            centre.x + radius * turn.cos(),
            centre.y + radius * turn.sin(),
        )
    };
    (0..24).map(rim).collect()
}

/// Writes how high the pulls' centre line lies: below or above the middle of the line when there is
/// `room` within the bevels, else outside the front, led to the line's end at its `edge`.
pub fn level(
    drawing: &mut Drawing,
    taken: &mut Taken,
    (line, edge): (f64, f64),
    (words, holes): (String, &[Rect]),
    room: Rect,
) {
    let text = Text::new(words, room.centre().x, 0.0, theme::LEAST).ink(theme::FAINT);
    let beside = [line + 7.0, line - 3.0, line + 10.0, line + 13.0];
    let beside = beside.map(|y| text.clone().middle().at(room.centre().x, y));
    let clear = |text: &&Text| {
        let extent = text.extent().inset(-0.8);
        room.inset(1.0).holds(&extent, 0.0) && holes.iter().all(|h| !extent.overlaps(h, 0.0))
    };
    if let Some(text) = beside.iter().find(clear) {
        drawing.text_on(text.clone(), theme::tone_shade(FRONT_TONE));
        return;
    }
    taken.lead(drawing, text, Point::new(edge, line));
}
