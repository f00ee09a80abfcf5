//! The fitting sheet's drawings: each front with its sizes, shims, wedges, bevel and pulls.

use super::shape::{Point, Rect, Text};
use super::sheet::Drawing;
use super::theme;
use crate::fit::{Fitted, FittedBevel, Outline, Season, Sheet, Wedge};
use crate::job::{Edge, Edges, Mode};
use crate::measure::{Length, Ruler};

/// Width of one front's drawing, in points.
const CELL: f64 = 236.0;
/// Height of one front's drawing.
const TALL: f64 = 156.0;
/// Fronts across a page, and down it.
const GRID: [usize; 2] = [3, 3];
/// How far the opening is drawn outside the front: gaps are far too narrow to show to scale.
const APART: f64 = 5.0;
/// How wide a wedge is drawn at its thick end.
const THICK: f64 = 5.0;
/// The shade of a front.
const FRONT_TONE: f64 = 2.0;
/// From a corner to the words about a wedge along the top, clear of those along the side.
const ASIDE: f64 = 36.0;
/// Radius a hole is drawn with at least.
const HOLE: f64 = 1.4;

/// All fronts of a sheet, nine a page.
pub fn fitting(sheet: &Sheet) -> Vec<Drawing> {
    let [across, down] = GRID;
    let pages: Vec<&[Fitted]> = sheet.fronts.chunks(across * down).collect();
    let count = pages.len();
    let page = |(index, fronts): (usize, &&[Fitted])| {
        let rows = fronts.len().div_ceil(across);
        let heading = heading(sheet, index, count);
        let mut drawing = Drawing::new(theme::WIDTH, heading.clone());
        drawing.height = 22.0 + rows as f64 * TALL;
        let paper = Rect::new(0.0, 0.0, drawing.width, drawing.height);
        drawing.fill(paper, theme::PAPER);
        drawing.text(Text::new(heading, theme::MARGIN, 15.0, theme::TITLE).bold());
        for (place, fitted) in fronts.iter().enumerate() {
            let left = theme::MARGIN / 2.0 + (place % across) as f64 * CELL;
            let top = 22.0 + (place / across) as f64 * TALL;
            let cell = Rect::new(left, top, left + CELL, top + TALL);
            put(&mut drawing, cell, sheet, fitted);
        }
        drawing
    };
    pages.iter().enumerate().map(page).collect()
}

/// One front of a sheet by itself.
pub fn front(sheet: &Sheet, fitted: &Fitted) -> Drawing {
    let mut drawing = Drawing::new(CELL, format!("Front {} fitted", fitted.name));
    drawing.height = TALL;
    let cell = Rect::new(0.0, 0.0, CELL, TALL);
    drawing.fill(cell, theme::PAPER);
    put(&mut drawing, cell, sheet, fitted);
    drawing
}

fn heading(sheet: &Sheet, index: usize, count: usize) -> String {
    let shims = match sheet.mode {
        Mode::Inset => {
            "shims today around each front; dark slivers come off the blank (not to scale)"
        }
        Mode::Overlay => "overlaps around each front as today",
    };
    let page = match count {
        1 => String::new(),
        _ => format!(", page {} of {count}", index + 1),
    };
    format!("Fitting{page}: {shims}")
}

/// From a front's millimetres to points on the sheet.
#[derive(Clone, Copy)]
struct View {
    left: f64,
    bottom: f64,
    scale: f64,
}

impl View {
    /// Fits the front into `room`, standing on its bottom, centred left to right.
    fn of(outline: &Outline, room: Rect) -> View {
        let (width, height) = (outline.width(), outline.height());
        let scale = (room.width() / width).min(room.height() / height);
        let skew = outline.quad.upper_left.x.min(0.0);
        View {
            left: room.centre().x - (width / 2.0 + skew) * scale,
            bottom: room.centre().y + height * scale / 2.0,
            scale,
        }
    }

    fn at(&self, x: f64, y: f64) -> Point {
        Point::new(self.left + x * self.scale, self.bottom - y * self.scale)
    }
}

fn put(drawing: &mut Drawing, cell: Rect, sheet: &Sheet, fitted: &Fitted) {
    let number = fitted.front + 1;
    let title = format!("{number}  {}", fitted.name);
    let title = Text::new(title, cell.left + 6.0, cell.top + 11.0, 10.0);
    drawing.text(title.bold());
    let room = Rect::new(
        cell.left + 42.0,
        cell.top + 34.0,
        cell.right - 42.0,
        cell.bottom - 34.0,
    );
    let view = View::of(&fitted.outline, room);
    if fitted.opening.is_some() {
        let around = outline_points(&fitted.outline, &view, APART);
        drawing.outline(around, 0.6, theme::FAINT);
    }
    drawing.area(
        outline_points(&fitted.outline, &view, 0.0),
        theme::tone_shade(FRONT_TONE),
    );
    drawing.outline(outline_points(&fitted.outline, &view, 0.0), 1.1, theme::INK);
    for wedge in &fitted.wedges {
        draw_wedge(drawing, &fitted.outline, &view, wedge, &sheet.ruler);
    }
    if let Some(bevel) = &fitted.bevel {
        draw_bevel(drawing, &fitted.outline, &view, bevel);
    }
    draw_pulls(drawing, fitted, &view, &sheet.ruler);
    draw_sizes(drawing, cell, fitted, &view, &sheet.ruler);
}

/// The front's outline, `apart` points larger all round.
fn outline_points(outline: &Outline, view: &View, apart: f64) -> Vec<Point> {
    let out = apart / view.scale;
    let grown = outline.inset(&Edges::all(-out));
    let (grown, corner) = grown.unwrap_or((*outline, Default::default()));
    let place = |x: f64, y: f64| view.at(x + corner.x, y + corner.y);
    let quad = &grown.quad;
    let mut points = vec![
        place(quad.lower_left.x, quad.lower_left.y),
        place(quad.lower_right.x, quad.lower_right.y),
        place(quad.upper_right.x, quad.upper_right.y),
    ];
    if let Some(arc) = grown.arc {
        let (right, left) = (quad.upper_right.x, quad.upper_left.x);
        for i in 1..24 {
            let x = right + (left - right) * f64::from(i) / 24.0;
            points.extend(arc.height_at(x).map(|y| place(x, y)));
        }
    }
    points.push(place(quad.upper_left.x, quad.upper_left.y));
    points
}

/// A wedge as a dark sliver along its edge, with how much comes off its thick end.
fn draw_wedge(drawing: &mut Drawing, outline: &Outline, view: &View, wedge: &Wedge, ruler: &Ruler) {
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
    let words = format!("-{}", ruler.show(wedge.take_off));
    let down = if wedge.thick_end == Edge::Bottom {
        -3.0
    } else {
        9.0
    };
    let at = Point::new(inner.x + dx.signum() * 2.0, thick.y + down);
    let text = Text::new(words, at.x, at.y, theme::NOTE);
    let text = match (wedge.edge, wedge.thick_end) {
        (Edge::Right, _) => text.end(),
        (Edge::Top, Edge::Right) => Text {
            at: Point::new(thick.x - ASIDE, thick.y + THICK + 7.0),
            ..text
        }
        .end(),
        (Edge::Top, _) => Text {
            at: Point::new(thick.x + ASIDE, thick.y + THICK + 7.0),
            ..text
        },
        _ => text,
    };
    drawing.text(text);
}

/// The bevels' inner edges.
fn draw_bevel(drawing: &mut Drawing, outline: &Outline, view: &View, bevel: &FittedBevel) {
    let face = bevel.bevel.face.mm();
    let by = bevel.on.map(|on| if on { face } else { 0.0 });
    let Some((inner, corner)) = outline.inset(&by) else {
        return;
    };
    let moved = View {
        left: view.left + corner.x * view.scale,
        bottom: view.bottom - corner.y * view.scale,
        ..*view
    };
    drawing.outline(outline_points(&inner, &moved, 0.0), 0.5, theme::FAINT);
}

/// Centre lines and holes.
fn draw_pulls(drawing: &mut Drawing, fitted: &Fitted, view: &View, ruler: &Ruler) {
    let Some(marks) = &fitted.pulls else {
        return;
    };
    let quad = &fitted.outline.quad;
    let (middle, level) = (quad.lower_right.x / 2.0, marks.level.mm());
    let top = fitted.outline.height();
    let ink = theme::TRIANGLE;
    drawing.dashes(view.at(middle, 0.0), view.at(middle, top), 5.0, 0.4, ink);
    let (left, right) = (view.at(0.0, level), view.at(quad.lower_right.x, level));
    drawing.dashes(left, right, 5.0, 0.4, ink);
    for hole in &marks.holes {
        let centre = view.at(hole.at.x, hole.at.y);
        let radius = (marks.diameter.mm() / 2.0 * view.scale).max(HOLE);
        let rim = |i: i32| {
            let turn = f64::from(i) * std::f64::consts::TAU / 16.0;
            Point::new(
                centre.x + radius * turn.cos(),
                centre.y + radius * turn.sin(),
            )
        };
        drawing.area((0..16).map(rim).collect::<Vec<_>>(), theme::INK);
    }
    let words = format!("{} up", ruler.show(marks.level));
    let words = Text::new(words, view.at(middle, level).x, left.y + 8.0, theme::LEAST);
    drawing.text_on(
        words.ink(theme::FAINT).middle(),
        theme::tone_shade(FRONT_TONE),
    );
}

/// Shims around the front, its heights at the sides and its width below.
fn draw_sizes(drawing: &mut Drawing, cell: Rect, fitted: &Fitted, view: &View, ruler: &Ruler) {
    let quad = &fitted.outline.quad;
    let sides = quad.sides().map(Length::from_mm);
    let (low, high) = (view.at(0.0, 0.0), view.at(0.0, fitted.outline.height()));
    let right = view.at(quad.lower_right.x.max(quad.upper_right.x), 0.0).x;
    let left = view.at(quad.upper_left.x.min(0.0), 0.0).x;
    let centre = (left + right) / 2.0;
    let middle = (low.y + high.y) / 2.0;
    let upright =
        |words: String, x: f64| Text::new(words, x, middle, theme::MARK).upward().middle();
    drawing.text(upright(ruler.show(sides.left), left - 17.0));
    drawing.text(upright(ruler.show(sides.right), right + 23.0));
    let width = Text::new(ruler.show(sides.bottom), centre, low.y + 24.0, theme::MARK);
    drawing.text(width.middle());
    let thick = format!("{} thick", ruler.show(fitted.thickness));
    let thick = Text::new(thick, cell.right - 6.0, cell.top + 11.0, theme::NOTE);
    drawing.text(thick.end().ink(theme::FAINT));
    let top = match fitted.arch {
        Some(_) => format!("highest {}", ruler.show(fitted.height())),
        None => ruler.show(sides.top),
    };
    let top = Text::new(top, centre, high.y - 18.0, theme::MARK);
    drawing.text(top.middle());
    if fitted.opening.is_none() {
        return;
    }
    let gaps = fitted.movement.gaps(Season::Today);
    let gap = |edge| ruler.show(Length::from_mm(gaps.at(edge)));
    let note = |words, x, y| Text::new(words, x, y, theme::NOTE).ink(theme::FAINT);
    drawing.text(note(gap(Edge::Top), centre, high.y - APART - 3.0).middle());
    drawing.text(note(gap(Edge::Bottom), centre, low.y + APART + 8.0).middle());
    drawing.text(
        note(gap(Edge::Left), left - APART - 2.0, middle)
            .upward()
            .middle(),
    );
    drawing.text(
        note(gap(Edge::Right), right + APART + 8.0, middle)
            .upward()
            .middle(),
    );
}
