//! The line under a board that explains the signs, and the scale bar.

use super::band::{Band, SIDE};
use super::label::draw_arrow;
use super::stock::JOINED_DASH;
use super::view::{View, Way};
use crate::draw::hatch::hatch_line;
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Grain;
use crate::measure::{Length, Unit};

/// A sign and what it means: its width, how it is drawn in its box, its words.
type Sign = (f64, fn(&mut Drawing, Rect), &'static str);

/// Writes the line from `top` down. Gives where it ends.
pub fn signs(drawing: &mut Drawing, view: &View, band: &Band, top: f64) -> f64 {
    let base = top + 11.0;
    let signs: [Sign; 6] = [
        (2.4, |d, spot| d.fill(spot, theme::INK), left_end(view)),
        (
            4.5,
            |d, spot| draw_arrow(d, spot, Way::Up),
            "top of the front",
        ),
        (12.0, triangle, "one stretch"),
        (11.0, defect, "defect"),
        (11.0, waste, "waste"),
        (
            11.0,
            |d, spot| d.dashed_outline(spot, 3.0, 0.9, theme::INK),
            "kept piece",
        ),
    ];
    let parted: [Sign; 1] = [(11.0, joined, "cut apart when flat")];
    let is_parted = view.work().pieces().any(|(.., piece)| piece.is_cut_apart());
    let parted = parted.into_iter().filter(|_| is_parted);
    let at_work: [Sign; 2] = [(11.0, crossed, "gone"), (11.0, twice, "new")];
    let at_work = at_work.into_iter().filter(|_| view.progress.is_some());
    let mut x = SIDE;
    for (width, draw, words) in signs.into_iter().chain(parted).chain(at_work) {
        draw(drawing, Rect::new(x, base - 7.0, x + width, base + 1.0));
        let text = Text::new(words, x + width + 4.0, base, theme::NOTE).ink(theme::FAINT);
        x = text.extent().right + 12.0;
        drawing.text(text);
    }
    scale_bar(drawing, view, band, base);
    base + 6.0
}

fn left_end(view: &View) -> &'static str {
    let has = |grain| view.blanks().any(|b| view.front(b).grain == grain);
    match (has(Grain::Horizontal), has(Grain::Vertical)) {
        (true, true) => "left (L) or bottom (B) end",
        (false, true) => "bottom end (B)",
        _ => "left end (L)",
    }
}

fn triangle(drawing: &mut Drawing, spot: Rect) {
    let corners = [
        Point::new(spot.left, spot.bottom - 1.0),
        Point::new(spot.right, spot.bottom - 1.0),
        Point::new(spot.centre().x, spot.top),
    ];
    drawing.outline(corners, 0.7, theme::TRIANGLE);
}

fn defect(drawing: &mut Drawing, spot: Rect) {
    drawing.stroke(hatch_line(spot, 3.2), 0.5, theme::INK);
    drawing.outline(spot.corners(), 0.7, theme::INK);
}

fn waste(drawing: &mut Drawing, spot: Rect) {
    drawing.fill(spot, theme::WASTE);
    drawing.outline(spot.corners(), 0.5, theme::INK);
}

fn joined(drawing: &mut Drawing, spot: Rect) {
    let [a, b, c, d] = spot.corners();
    drawing.line(a, b, 0.8, theme::INK);
    drawing.line(d, c, 0.8, theme::INK);
    for x in [spot.centre().x - 1.2, spot.centre().x + 1.2] {
        let (top, bottom) = (Point::new(x, spot.top), Point::new(x, spot.bottom));
        drawing.dashes(top, bottom, JOINED_DASH, 0.8, theme::INK);
    }
}

fn crossed(drawing: &mut Drawing, spot: Rect) {
    let [a, b, c, d] = spot.corners();
    drawing.outline([a, b, c, d], 0.5, theme::INK);
    drawing.line(a, c, 0.6, theme::INK);
    drawing.line(b, d, 0.6, theme::INK);
}

fn twice(drawing: &mut Drawing, spot: Rect) {
    drawing.outline(spot.corners(), 0.7, theme::INK);
    drawing.outline(spot.inset(2.2).corners(), 0.7, theme::INK);
}

/// The way the grain runs: an arrow to and fro that fills `spot`.
pub fn both_ways(drawing: &mut Drawing, spot: Rect) {
    let (middle, y) = (spot.centre().x, spot.centre().y);
    let left = Rect::new(spot.left, y - 2.0, middle, y + 2.0);
    let right = Rect::new(middle, y - 2.0, spot.right, y + 2.0);
    draw_arrow(drawing, left, Way::Left);
    draw_arrow(drawing, right, Way::Right);
}

/// A bar of a round length, at the right.
fn scale_bar(drawing: &mut Drawing, view: &View, band: &Band, base: f64) {
    let lengths: [(Length, &str); 3] = match view.ruler.unit {
        Unit::Inch => [
            (Length::from_inches(12.0), "12 in"),
            (Length::from_inches(6.0), "6 in"),
            (Length::from_inches(2.0), "2 in"),
        ],
        Unit::Mm => [
            (Length::from_mm(300.0), "300 mm"),
            (Length::from_mm(100.0), "100 mm"),
            (Length::from_mm(50.0), "50 mm"),
        ],
    };
    let most = 120.0;
    let fits = |length: &Length| length.inches() * band.scale <= most;
    let (length, words) = lengths
        .into_iter()
        .find(|(length, _)| fits(length))
        .unwrap_or(lengths[2]);
    let right = theme::WIDTH - SIDE;
    let left = right - length.inches() * band.scale;
    let y = base - 2.0;
    drawing.line(Point::new(left, y), Point::new(right, y), 1.2, theme::INK);
    for x in [left, right] {
        drawing.line(
            Point::new(x, y - 3.0),
            Point::new(x, y + 3.0),
            0.8,
            theme::INK,
        );
    }
    let words = Text::new(words, left - 4.0, base, theme::NOTE).end();
    drawing.text(words);
}
