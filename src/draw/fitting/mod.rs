//! The fitting sheet's drawings: each front with its sizes, shims, wedges, bevel and pulls.

mod place;
mod sizes;
#[cfg(test)]
mod tests;
mod view;
mod wedge;
mod work;

use super::font::{self, Weight};
use super::shape::{Rect, Text};
use super::sheet::Drawing;
use super::theme;
use crate::fit::{Fitted, Sheet};
use crate::job::Mode;
use place::Taken;
use view::View;

/// Width of one front's drawing, in points.
const CELL: f64 = 236.0;
/// Height of one front's drawing.
const TALL: f64 = 156.0;
/// Fronts across a page, and down it.
const GRID: [usize; 2] = [3, 3];
/// Height of a page's heading.
const HEADING: f64 = 22.0;
/// How far the opening is drawn outside the front: gaps are far too narrow to show to scale.
const APART: f64 = 5.0;
/// Around a front, for its sizes.
const SIDES: f64 = 42.0;
/// Above a front, for its title and sizes.
const ABOVE: f64 = 38.0;
/// Below a front, for its sizes.
const BELOW: f64 = 30.0;
/// What a front's drawing is lower by without its name and thickness.
const UNNAMED: f64 = 14.0;
/// The base line of a front's title.
const NAME: f64 = 11.0;
/// The shade of a front.
const FRONT_TONE: f64 = 2.0;

/// All fronts of a sheet, nine a page.
pub fn fitting(sheet: &Sheet) -> Vec<Drawing> {
    let pages: Vec<&[Fitted]> = sheet.fronts.chunks(GRID[0] * GRID[1]).collect();
    let count = pages.len();
    let numbered = pages.iter().enumerate();
    numbered
        .map(|(index, fronts)| page(sheet, fronts, heading(sheet, index, count)))
        .collect()
}

fn page(sheet: &Sheet, fronts: &[Fitted], heading: String) -> Drawing {
    let across = GRID[0];
    let rows = fronts.len().div_ceil(across);
    let mut drawing = Drawing::new(theme::WIDTH, heading.clone());
    drawing.height = HEADING + rows as f64 * TALL;
    let paper = Rect::new(0.0, 0.0, drawing.width, drawing.height);
    drawing.fill(paper, theme::PAPER);
    drawing.text(Text::new(heading, theme::MARGIN, 15.0, theme::TITLE).bold());
    for (place, fitted) in fronts.iter().enumerate() {
        let left = theme::MARGIN / 2.0 + (place % across) as f64 * CELL;
        let top = HEADING + (place / across) as f64 * TALL;
        let cell = Rect::new(left, top, left + CELL, top + TALL);
        put(&mut drawing, cell, sheet, fitted, true);
    }
    drawing
}

/// One front of a sheet by itself, to stand under its name and beside its figures.
pub fn front(sheet: &Sheet, fitted: &Fitted) -> Drawing {
    let mut drawing = Drawing::new(CELL, format!("Front {} fitted", fitted.name));
    drawing.height = TALL - UNNAMED;
    let cell = Rect::new(0.0, -UNNAMED, CELL, TALL - UNNAMED);
    put(&mut drawing, cell, sheet, fitted, false);
    drawing
}

fn heading(sheet: &Sheet, index: usize, count: usize) -> String {
    let is = |mode: Mode| sheet.fronts.iter().any(|fitted| fitted.mode == mode);
    let what = match (is(Mode::Inset), is(Mode::Overlay)) {
        (true, true) => "shims today, or overlaps where dashed",
        (false, true) => "overlaps today around each front",
        _ => "shims today around each front",
    };
    let shims = match sheet.has_wedges() {
        true => format!("{what}; dark slivers come off the blank (not to scale)"),
        false => what.to_owned(),
    };
    let page = match count {
        1 => String::new(),
        _ => format!(", page {} of {count}", index + 1),
    };
    format!("Fitting{page}: {shims}")
}

fn put(drawing: &mut Drawing, cell: Rect, sheet: &Sheet, fitted: &Fitted, named: bool) {
    let ruler = &sheet.ruler;
    let room = Rect::new(
        cell.left + SIDES,
        cell.top + ABOVE,
        cell.right - SIDES,
        cell.bottom - BELOW,
    );
    let view = View::of(&fitted.outline, room);
    let around = view.around(&fitted.outline, APART);
    let frame = Rect::around(&around);
    let measured = fitted.opening.is_some();
    if measured && fitted.mode == Mode::Inset {
        drawing.outline(around, 0.6, theme::FAINT);
    }
    let outline = view.polygon(&fitted.outline);
    drawing.area(outline.clone(), theme::tone_shade(FRONT_TONE));
    drawing.outline(outline, 1.1, theme::INK);
    let hidden = (measured && fitted.mode == Mode::Overlay)
        .then(|| work::hidden_opening(drawing, fitted, &view));
    let slivers: Vec<_> = fitted
        .wedges
        .iter()
        .map(|wedge| wedge::sliver(drawing, &fitted.outline, &view, wedge))
        .collect();
    let inner = work::bevel(drawing, fitted, &view);
    let holes = work::pulls(drawing, fitted, &view);
    let mut taken = Taken::new(cell, frame);
    if named {
        thickness(drawing, &mut taken, cell, sheet, fitted);
        title(drawing, &mut taken, cell, fitted);
    }
    for text in sizes::sizes(fitted, &view, ruler) {
        taken.put(drawing, text);
    }
    for (index, (wedge, tip)) in fitted.wedges.iter().zip(slivers).enumerate() {
        let order = (fitted.wedges.len() > 1).then_some(index + 1);
        wedge::figure(drawing, &mut taken, (wedge, order), tip, ruler);
    }
    let inner = inner.map(|room| hidden.map_or(room, |hidden| both(room, hidden)));
    if let (Some(marks), Some(room)) = (&fitted.pulls, inner) {
        let end = view.at(fitted.outline.quad.lower_right.x, marks.level.mm());
        let words = format!("{} up", ruler.show(marks.level));
        work::level(drawing, &mut taken, (end.y, end.x), (words, &holes), room);
    }
}

/// Where two boxes overlap.
fn both(a: Rect, b: Rect) -> Rect {
    Rect::new(
        a.left.max(b.left),
        a.top.max(b.top),
        a.right.min(b.right),
        a.bottom.min(b.bottom),
    )
}

/// The thickness, over a front on the right.
fn thickness(drawing: &mut Drawing, taken: &mut Taken, cell: Rect, sheet: &Sheet, front: &Fitted) {
    let thick = format!("{} thick", sheet.ruler.show(front.thickness));
    let thick = Text::new(thick, cell.right - 6.0, cell.top + NAME, theme::NOTE);
    taken.put(drawing, thick.end().ink(theme::FAINT));
}

/// Number and name over a front, left of its thickness; a name that is too long ends in dots.
fn title(drawing: &mut Drawing, taken: &mut Taken, cell: Rect, fitted: &Fitted) {
    let room = taken.left_of_words() - cell.left - 14.0;
    let title = format!("{}  {}", fitted.front + 1, fitted.name);
    let (words, size) = match font::fit(&title, Weight::Bold, room, 10.0, 7.0) {
        Some(size) => (title, size),
        None => (shortened(title, room), 7.0),
    };
    let (x, y) = (cell.left + 6.0, cell.top + NAME);
    taken.put(drawing, Text::new(words, x, y, size).bold());
}

fn shortened(mut title: String, room: f64) -> String {
    while font::width(&title, 7.0, Weight::Bold) + 7.0 > room && title.pop().is_some() {}
    format!("{}…", title.trim_end())
}
