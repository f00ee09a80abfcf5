//! The lines under a board that explain the signs.

use super::band::SIDE;
use super::label::draw_arrow;
use super::stock::{JOINED_DASH, tick};
use super::view::{View, Way};
use super::waste::cross;
use crate::draw::hatch::hatch_line;
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Grain;

/// A sign and what it means: its width, how it is drawn in its box, its words.
type Sign = (f64, fn(&mut Drawing, Rect), &'static str);

/// Writes the lines from `top` down. Gives where they end.
pub fn signs(drawing: &mut Drawing, view: &View, top: f64) -> f64 {
    let has = [!view.board.defects.is_empty(), !view.cut.kept.is_empty()];
    let signs: [Sign; 5] = [
        (7.0, |d, spot| cross(d, spot.centre(), 3.2), "waste side"),
        (3.2, |d, spot| d.fill(spot, theme::INK), left_end(view)),
        (
            6.0,
            |d, spot| draw_arrow(d, spot, Way::Up),
            "top of the front",
        ),
        (13.0, triangle, "one stretch"),
        (22.0, both_ways, "grain"),
    ];
    let found: [Sign; 2] = [
        (12.0, defect, "defect"),
        (
            12.0,
            |d, spot| d.dashed_outline(spot, 3.0, theme::THIN, theme::INK),
            "kept piece",
        ),
    ];
    let found = found.into_iter().zip(has).filter(|(_, has)| *has);
    let found = found.map(|(sign, _)| sign);
    let parted: [Sign; 1] = [(12.0, joined, "cut apart when flat")];
    let is_parted = view.work().pieces().any(|(.., piece)| piece.is_cut_apart());
    let parted = parted.into_iter().filter(|_| is_parted);
    let at_work: [Sign; 3] = [
        (12.0, ticked, "cut"),
        (12.0, crossed, "lost"),
        (12.0, twice, "new"),
    ];
    let at_work = at_work.into_iter().filter(|_| view.progress.is_some());
    let (mut x, mut base) = (SIDE, top + 11.0);
    for (width, draw, words) in signs.into_iter().chain(found).chain(parted).chain(at_work) {
        let text = Text::new(words, 0.0, 0.0, theme::SMALL);
        let long = width + 5.0 + text.length();
        if x + long > view.width - SIDE {
            (x, base) = (SIDE, base + 14.0);
        }
        draw(drawing, Rect::new(x, base - 8.0, x + width, base + 1.0));
        drawing.text(text.at(x + width + 5.0, base));
        x += long + 14.0;
    }
    base + 5.0
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
    drawing.outline(corners, theme::THIN, theme::TRIANGLE);
}

fn defect(drawing: &mut Drawing, spot: Rect) {
    drawing.stroke(hatch_line(spot, 3.2), theme::THIN, theme::INK);
    drawing.outline(spot.corners(), theme::THIN, theme::INK);
}

fn joined(drawing: &mut Drawing, spot: Rect) {
    let [a, b, c, d] = spot.corners();
    drawing.line(a, b, theme::THIN, theme::INK);
    drawing.line(d, c, theme::THIN, theme::INK);
    for x in [spot.centre().x - 1.2, spot.centre().x + 1.2] {
        let (top, bottom) = (Point::new(x, spot.top), Point::new(x, spot.bottom));
        drawing.dashes(top, bottom, JOINED_DASH, theme::THIN, theme::INK);
    }
}

fn crossed(drawing: &mut Drawing, spot: Rect) {
    let [a, b, c, d] = spot.corners();
    drawing.outline([a, b, c, d], theme::THIN, theme::INK);
    drawing.line(a, c, theme::THIN, theme::INK);
    drawing.line(b, d, theme::THIN, theme::INK);
}

fn ticked(drawing: &mut Drawing, spot: Rect) {
    drawing.outline(spot.corners(), theme::THIN, theme::INK);
    tick(drawing, spot.inset(1.5));
}

fn twice(drawing: &mut Drawing, spot: Rect) {
    drawing.outline(spot.corners(), theme::THIN, theme::INK);
    drawing.outline(spot.inset(2.2).corners(), theme::THIN, theme::INK);
}

/// The way the grain runs: an arrow to and fro.
fn both_ways(drawing: &mut Drawing, spot: Rect) {
    let (middle, y) = (spot.centre().x, spot.centre().y);
    let left = Rect::new(spot.left, y - 3.0, middle, y + 3.0);
    let right = Rect::new(middle, y - 3.0, spot.right, y + 3.0);
    draw_arrow(drawing, left, Way::Left);
    draw_arrow(drawing, right, Way::Right);
}
