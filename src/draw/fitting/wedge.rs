//! Wedges: what comes off a front's rectangular blank.

use super::place::Taken;
use super::view::View;
use crate::draw::shape::{Point, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::fit::{Outline, Wedge};
use crate::job::Edge;
use crate::measure::Ruler;

/// How wide a wedge is drawn at its thick end.
const THICK: f64 = 5.0;
/// Where its figure is led to, as a share of its length from the thick end.
const TIP: f64 = 0.12;

/// Draws a wedge as a dark sliver along its edge. Gives the spot that its figure is led to.
pub fn sliver(drawing: &mut Drawing, outline: &Outline, view: &View, wedge: &Wedge) -> Point {
    let quad = &outline.quad;
    let (from, to) = match (wedge.edge, wedge.thick_end) {
        (Edge::Left, Edge::Top) => (quad.upper_left, quad.lower_left),
        (Edge::Left, _) => (quad.lower_left, quad.upper_left),
        (Edge::Right, Edge::Top) => (quad.upper_right, quad.lower_right),
        (Edge::Right, _) => (quad.lower_right, quad.upper_right),
        (_, Edge::Left) => (quad.upper_left, quad.upper_right),
        _ => (quad.upper_right, quad.upper_left),
    };
    let (thick, thin) = (view.at(from.x, from.y), view.at(to.x, to.y));
    let (dx, dy) = match wedge.edge {
        Edge::Left => (THICK, 0.0),
        Edge::Right => (-THICK, 0.0),
        _ => (0.0, THICK),
    };
    let inner = Point::new(thick.x + dx, thick.y + dy);
    drawing.area([thick, thin, inner], theme::INK);
    Point::new(
        thick.x + (thin.x - thick.x) * TIP + dx * 0.3,
        thick.y + (thin.y - thick.y) * TIP + dy * 0.3,
    )
}

/// Writes how much comes off a wedge's thick end, and as which of several cuts, outside the front
/// and led to the sliver.
pub fn figure(
    drawing: &mut Drawing,
    taken: &mut Taken,
    (wedge, order): (&Wedge, Option<usize>),
    tip: Point,
    ruler: &Ruler,
) {
    let order = order.map(|order| format!(" ({order})"));
    let words = format!(
        "–{}{}",
        ruler.show(wedge.take_off),
        order.unwrap_or_default()
    );
    taken.lead(drawing, Text::new(words, 0.0, 0.0, theme::NOTE), tip);
}
