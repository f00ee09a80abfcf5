//! The diagram of one board: what to chalk, what to cut, and which way each piece lies.
//!
//! The hook end is on the left, the near edge at the bottom, the side that was up when the board
//! was measured faces the reader. A board too long for the sheet goes on in another band.

mod band;
mod clear;
mod label;
mod marks;
mod progress;
mod row;
mod signs;
mod stock;
mod triangle;
mod view;
mod words;

use crate::job::Job;
use crate::measure::Ruler;
use crate::plan::Plan;

use super::font::Weight;
use super::shape::{Point, Rect, Text};
use super::sheet::Drawing;
use super::theme;
use band::{Band, SIDE};
use label::Key;
use marks::TAPE;
use row::{Row, Side};
use view::View;

pub use marks::defect_name;
pub use progress::{Progress, Status};
pub(super) use view::upright;
pub use view::{board_name, thickness};

/// The diagram of `plan.boards[index]`, in the job's unit.
///
/// # Panics
/// When `index` is not that of a board of the plan, or the plan is not one for this job.
pub fn board(job: &Job, plan: &Plan, index: usize) -> Drawing {
    board_in(job, plan, index, job.settings.ruler(), None)
}

/// The same with lengths written as `ruler` says. Of a board at work, what is gone is crossed out,
/// what is to be chalked anew has a double outline, and each piece says which it is.
///
/// # Panics
/// As [`board`].
pub fn board_in(
    job: &Job,
    plan: &Plan,
    index: usize,
    ruler: Ruler,
    progress: Option<&Progress>,
) -> Drawing {
    let view = View::new(job, plan, index, ruler);
    fitted(&View { progress, ..view })
}

/// The same without a title, to stand under a heading that says [`board_facts`].
///
/// # Panics
/// As [`board`].
pub fn board_untitled(
    job: &Job,
    plan: &Plan,
    index: usize,
    ruler: Ruler,
    progress: Option<&Progress>,
) -> Drawing {
    let view = View::new(job, plan, index, ruler);
    fitted(&View {
        progress,
        titled: false,
        ..view
    })
}

/// A board's size, thickness, cut, tone, board feet and yield, in a line.
///
/// # Panics
/// As [`board`].
pub fn board_facts(job: &Job, plan: &Plan, index: usize, ruler: Ruler) -> String {
    words::facts(&View::new(job, plan, index, ruler))
}

/// The diagram, its board made smaller when the sheet is not high enough.
fn fitted(view: &View) -> Drawing {
    let mut bands = band::bands(view);
    let mut drawing = draw_bands(view, &bands);
    // A smaller board crowds its labels, which may then stand higher: again, if so.
    for _ in 0..6 {
        let excess = drawing.height - theme::HEIGHT;
        if excess <= 0.0 {
            break;
        }
        let board_height = view.board.width.inches() * bands[0].scale * bands.len() as f64;
        for band in &mut bands {
            band.scale *= (1.0 - excess / board_height).max(0.4);
        }
        drawing = draw_bands(view, &bands);
    }
    drawing
}

fn draw_bands(view: &View, bands: &[Band]) -> Drawing {
    let mut drawing = Drawing::new(theme::WIDTH, title_of(view));
    let mut key = Key::default();
    let mut y = match view.titled {
        true => words::title(&mut drawing, view),
        false => 0.0,
    };
    for band in bands {
        y = draw_band(&mut drawing, view, *band, y + 4.0, &mut key);
    }
    y = words::notes(&mut drawing, view, &key, y + 4.0);
    y = signs::signs(&mut drawing, view, &bands[0], y);
    drawing.height = y + 2.0;
    drawing
}

fn title_of(view: &View) -> String {
    let mut fronts: Vec<&str> = view.blanks().map(|b| view.front(b).name.as_str()).collect();
    fronts.dedup();
    format!(
        "Board {}: where fronts {} are cut",
        view.name(),
        fronts.join(", ")
    )
}

/// Draws one band from `top` down: labels, tape, board, tape, labels, sections. Gives where it
/// ends.
fn draw_band(drawing: &mut Drawing, view: &View, mut band: Band, top: f64, key: &mut Key) -> f64 {
    let first_caption = top + theme::NOTE;
    let room = (4.0, theme::WIDTH - 4.0);
    // Labels are planned before the board's place is known, because their height decides it.
    let planned = Row::plan(marks::above(view, &band, 0.0), room.0, room.1);
    let upper_tape = first_caption + 3.0 + planned.height();
    let far_edge = upper_tape + TAPE;
    band.near = far_edge + view.board.width.inches() * band.scale;
    let above = marks::above(view, &band, upper_tape);
    stock::draw(drawing, view, &band);
    triangle::draw(drawing, view, &band);
    let below = marks::from_hook(view, &band, band.near);
    marks::tape(drawing, view, &band, (upper_tape, true), &above);
    marks::tape(drawing, view, &band, (band.near, false), &below);
    Row::plan(above, room.0, room.1).draw(drawing, upper_tape, Side::Above);
    label::draw(drawing, view, &band, key);
    let lower_edge = band.near + TAPE;
    let below = Row::plan(below, room.0, room.1);
    below.draw(drawing, lower_edge, Side::Below);
    let sections_top = lower_edge + below.height() + 2.0;
    sections(drawing, view, &band, sections_top);
    captions(drawing, view, &band, first_caption, sections_top + 15.0);
    sections_top + 18.0
}

/// Brackets that name the sections.
fn sections(drawing: &mut Drawing, view: &View, band: &Band, top: f64) {
    for (i, section) in view.cut.sections.iter().enumerate() {
        let across = (section.strips.first(), section.strips.last());
        let (Some(_), Some(_)) = across else { continue };
        let (from, to) = (section.from.max(band.from), section.to.min(band.to));
        if from >= to {
            continue;
        }
        let (left, right) = (band.x(from), band.x(to));
        let bracket = [
            Point::new(left, top),
            Point::new(left, top + 3.0),
            Point::new(right, top + 3.0),
            Point::new(right, top),
        ];
        drawing.stroke(bracket, 0.7, theme::INK);
        let middle = (left + right) / 2.0;
        let write = |words: String| Text::new(words, middle, top + 5.8, theme::NOTE).middle();
        let long = write(format!("section {}", i + 1));
        let text = if long.length() + 4.0 < right - left {
            long
        } else {
            write(format!("{}", i + 1))
        };
        drawing.text_on(text, theme::PAPER);
    }
}

/// Names the ends of the board and what the tapes measure.
fn captions(drawing: &mut Drawing, view: &View, band: &Band, above: f64, below: f64) {
    let note = |words: &str, x: f64, y: f64| Text::new(words, x, y, theme::NOTE).ink(theme::FAINT);
    drawing.text(note("marks from the far end", theme::WIDTH - SIDE, above).end());
    let hook = "marks from the hook end, near edge";
    drawing.text(note(hook, SIDE, below));
    let grain = note("grain", SIDE, above);
    let arrow = grain.extent().right + 4.0;
    drawing.text(grain);
    let spot = Rect::new(arrow, above - theme::NOTE * 0.7, arrow + 20.0, above + 0.3);
    signs::both_ways(drawing, spot);
    let body = Rect::new(
        band.x(band.from),
        band.y(view.board.width),
        band.x(band.to),
        band.near,
    );
    let half = theme::NOTE * 0.36;
    let ends = [
        (band.from, "hook", body.left - 8.0),
        (band.to, "far", body.right + 8.0),
    ];
    for (at, name, x) in ends {
        let outer = at == crate::measure::Length::ZERO || at == view.board.length;
        let words = if !outer {
            "…".to_owned()
        } else if body.height() > 36.0 {
            format!("{name} end")
        } else {
            name.to_owned()
        };
        let text = Text {
            weight: Weight::Bold,
            ..note(&words, x + half, body.centre().y).middle().upward()
        };
        drawing.text(text);
    }
}

#[cfg(test)]
mod tests;
