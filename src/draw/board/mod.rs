//! The diagram of one board: what to chalk, what to cut, and which way each piece lies.
//!
//! The hook end is on the left, the near edge at the bottom, the side that was up when the board
//! was measured faces the reader. All that is written is ten points high or more: a board that is
//! too long or too crowded for that goes on in another band.

mod band;
mod brackets;
mod clear;
mod inside;
mod label;
mod marks;
mod progress;
mod row;
mod signs;
mod stock;
mod triangle;
mod view;
mod waste;
mod words;

use std::collections::BTreeSet;

use crate::job::Job;
use crate::measure::{Length, Ruler};
use crate::plan::Plan;

use super::names::writable;
use super::shape::{Rect, Text};
use super::sheet::Drawing;
use super::theme;
use band::Band;
use brackets::Brackets;
use inside::Inside;
use label::Key;
use marks::{Numbered, Spot};
use row::{Row, Side};
use view::View;

pub use marks::defect_name;
pub use progress::{Progress, Status};
pub use row::ring;
pub(super) use view::upright;
pub use view::{board_name, copy_name, thickness};

/// Heights a board is drawn in, in points; the first that leaves room for the words below it is
/// taken.
const HEIGHTS: [f64; 8] = [460.0, 420.0, 380.0, 340.0, 300.0, 260.0, 225.0, 195.0];
/// Height of a board drawn by itself, and of one band where bands are tried.
const USUAL: f64 = 340.0;
/// Height of what a sheet holds below its heading, in points, on both usual papers.
const SHEET: f64 = 430.0;
/// Width of a drawing on a phone, and height of each of its bands.
const NARROW: f64 = 345.0;
const NARROW_HIGH: f64 = 240.0;
/// No strip is drawn narrower: two figures stand in it, one above the other.
const LEAST_STRIP: f64 = 44.0;
/// Unless the board would be so high.
const MOST: f64 = 330.0;
/// Height of a band that shows no blank.
const EMPTY: f64 = 66.0;
/// For the name of the near edge.
const EDGE_NAME: f64 = 13.0;

/// The diagram of `plan.boards[index]`, in the job's unit.
///
/// # Panics
/// When `index` is not that of a board of the plan, or the plan is not one for this job.
pub fn board(job: &Job, plan: &Plan, index: usize) -> Drawing {
    board_in(job, plan, index, job.settings.ruler(), None)
}

/// The same with lengths written as `ruler` says. Of a board at work, what is cut has a tick, what
/// is lost is crossed out, what is to be chalked anew has a double outline, and each piece says
/// which it is.
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
    let job = &*writable(job);
    let view = View {
        progress,
        ..View::new(job, plan, index, ruler)
    };
    let mut drawing = Drawing::new(view.width, title_of(&view));
    drawing.height = words::title(&mut drawing, &view);
    drawing.below(one(lay(&view, &bands(&view), USUAL), &view));
    drawing
}

/// The diagram without a title.
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
    let view = View {
        progress,
        ..View::new(job, plan, index, ruler)
    };
    one(lay(&view, &bands(&view), USUAL), &view)
}

/// The diagram without a title, to stand under a heading that says [`board_facts`], in several
/// heights, the highest first: each one drawing, or one for each half of a long or crowded board.
///
/// # Panics
/// As [`board`].
pub fn board_layouts(
    job: &Job,
    plan: &Plan,
    index: usize,
    ruler: Ruler,
    progress: Option<&Progress>,
) -> Vec<Vec<Drawing>> {
    let view = View {
        progress,
        ..View::new(job, plan, index, ruler)
    };
    let bands = bands(&view);
    let lowest = one(lay(&view, &bands, 0.0), &view);
    if lowest.height > SHEET {
        return vec![lay(&view, &bands, USUAL), lay(&view, &bands, 0.0)];
    }
    let heights = HEIGHTS.into_iter().filter(|&height| height > lowest.height);
    let mut layouts: Vec<Vec<Drawing>> = heights
        .map(|height| vec![one(lay(&view, &bands, height / bands.len() as f64), &view)])
        .filter(|layout| layout[0].height <= SHEET + 60.0)
        .collect();
    layouts.push(vec![lowest]);
    layouts
}

/// A board's size, thickness, cut, tone, board feet and yield, in a line.
///
/// # Panics
/// As [`board`].
pub fn board_facts(job: &Job, plan: &Plan, index: usize, ruler: Ruler) -> String {
    words::facts(&View::new(job, plan, index, ruler))
}

/// The diagram without a title, for a screen as narrow as a hand: a band a section, one below
/// another.
///
/// # Panics
/// As [`board`].
pub fn board_narrow(
    job: &Job,
    plan: &Plan,
    index: usize,
    ruler: Ruler,
    progress: Option<&Progress>,
) -> Drawing {
    let view = View {
        progress,
        width: NARROW,
        ..View::new(job, plan, index, ruler)
    };
    let marks = marks::numbered(&view);
    let bands = band::by_section(&view, |bands| untold(&view, &marks, bands));
    one(lay(&view, &bands, NARROW_HIGH), &view)
}

/// The bands of a board, as few as have room for its words.
fn bands(view: &View) -> Vec<Band> {
    let marks = marks::numbered(view);
    band::bands(view, |bands| {
        let mut key = Key::default();
        let draw = |band: &Band| draw_band(view, *band, USUAL, &marks, &mut key);
        let drawn: Vec<Drawn> = bands.iter().map(draw).collect();
        tell_lost(view, &marks, &drawn, &mut key);
        drawn.iter().map(|band| band.crowded).sum::<usize>() + key.entries.len()
    })
}

/// How much of what belongs into some bands has no room there.
fn untold(view: &View, marks: &[Numbered], bands: &[Band]) -> usize {
    let mut key = Key::default();
    let draw = |band: &Band| draw_band(view, *band, NARROW_HIGH, marks, &mut key);
    let crowded: usize = bands.iter().map(draw).map(|band| band.crowded).sum();
    crowded + key.entries.len()
}

/// One drawing a band, and one of what is to be said of all.
fn lay(view: &View, bands: &[Band], height: f64) -> Vec<Drawing> {
    let marks = marks::numbered(view);
    let mut key = Key::default();
    let draw = |band: &Band| draw_band(view, *band, height, &marks, &mut key);
    let drawn: Vec<Drawn> = bands.iter().map(draw).collect();
    tell_lost(view, &marks, &drawn, &mut key);
    let ratio = drawn.first().map_or(1.0, |band| band.ratio);
    let mut notes = Drawing::new(view.width, "");
    let y = words::notes(&mut notes, &key, ratio);
    notes.height = signs::signs(&mut notes, view, y);
    let bands = drawn.into_iter().map(|band| band.drawing);
    bands.chain([notes]).collect()
}

/// A band as it came out.
struct Drawn {
    drawing: Drawing,
    /// How many times as large as lengths widths are drawn.
    ratio: f64,
    /// How many rows are crowded.
    crowded: usize,
    /// The numbers of the marks whose figures stand in it.
    told: Vec<usize>,
}

/// Marks whose figures found room in none of the bands are told in the key.
fn tell_lost(view: &View, marks: &[Numbered], drawn: &[Drawn], key: &mut Key) {
    let told: BTreeSet<usize> = drawn.iter().flat_map(|band| &band.told).copied().collect();
    for lost in marks.iter().filter(|mark| !told.contains(&mark.number)) {
        key.note(format!("mark {} at {}", lost.number, lost.figure(view)));
    }
}

/// Drawings one below another.
fn one(drawings: Vec<Drawing>, view: &View) -> Drawing {
    let mut all = Drawing::new(view.width, title_of(view));
    for drawing in drawings {
        all.below(drawing);
    }
    all
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

/// Draws one band as high as `height` lets it be, and tells how much found no room.
fn draw_band(view: &View, mut band: Band, height: f64, marks: &[Numbered], key: &mut Key) -> Drawn {
    let mut drawing = Drawing::new(view.width, title_of(view));
    // Rows are planned before the board's place is known, because their height decides it.
    let upper = |band: &Band| Row::plan(above(view, band, marks), 4.0, view.width - 4.0);
    let lower = |band: &Band| Row::plan(below(view, band, marks), 4.0, view.width - 4.0);
    let brackets = Brackets::of(view, &band);
    let over = upper(&band).height();
    let under = EDGE_NAME + lower(&band).height() + brackets.height() + 4.0;
    let board_height = match has_blanks(view, &band) {
        true => board_height(view, height - over - under, SHEET - over - under),
        false => EMPTY,
    };
    band.tall = board_height / view.board.width.inches();
    band.near = over + 2.0 + board_height;
    stock::draw(&mut drawing, view, &band);
    triangle::draw(&mut drawing, view, &band);
    waste::crosses(&mut drawing, view, &band, marks);
    let (upper, lower) = (upper(&band), lower(&band));
    upper.draw(&mut drawing, band.y(view.board.width), Side::Above);
    lower.draw(&mut drawing, band.near + EDGE_NAME, Side::Below);
    let inside = Inside::of(view, &band, marks);
    inside.draw(&mut drawing);
    label::draw(&mut drawing, view, &band, key, &inside.taken);
    words::enclosed(&mut drawing, view, &band, key);
    edges(&mut drawing, view, &band, &lower);
    brackets.draw(&mut drawing, band.near + EDGE_NAME + lower.height() + 2.0);
    drawing.height = band.near + under;
    Drawn {
        drawing,
        ratio: band.tall / band.scale,
        crowded: usize::from(upper.crowded) + usize::from(lower.crowded),
        told: upper
            .told()
            .chain(lower.told())
            .chain(inside.told())
            .collect(),
    }
}

/// Whether anything is cut from the part of a board that a band shows.
fn has_blanks(view: &View, band: &Band) -> bool {
    let mut blanks = view.blanks();
    let lost = view
        .progress
        .is_some_and(|p| p.lost(view.cut).next().is_some());
    lost || blanks.any(|blank| blank.from < band.to && blank.to > band.from)
}

/// How high a board is drawn where there is `room`.
fn board_height(view: &View, room: f64, most: f64) -> f64 {
    let strips = view.cut.sections.iter().flat_map(|section| &section.strips);
    let narrowest = strips
        .map(|s| (s.high - s.low).inches())
        .fold(f64::MAX, f64::min);
    let wide = view.board.width.inches();
    let least = (LEAST_STRIP / narrowest * wide).clamp(60.0, most.clamp(90.0, MOST));
    room.clamp(least, least.max(MOST))
}

/// What stands above a band.
fn above(view: &View, band: &Band, marks: &[Numbered]) -> Vec<row::Label> {
    let figures = marks::figures(view, band, marks, Spot::Above);
    let more = marks::references(view, band).into_iter();
    let defects = marks::defects(view, band, Spot::Above);
    figures.into_iter().chain(more).chain(defects).collect()
}

/// What stands below a band.
fn below(view: &View, band: &Band, marks: &[Numbered]) -> Vec<row::Label> {
    let figures = marks::figures(view, band, marks, Spot::Below);
    let defects = marks::defects(view, band, Spot::Below);
    figures.into_iter().chain(defects).collect()
}

/// Names the edges of the board, each on itself.
fn edges(drawing: &mut Drawing, view: &View, band: &Band, below: &Row) {
    let name = |words: &str| Text::new(words, 0.0, 0.0, theme::SMALL).bold();
    let body = Rect::new(
        band.x(band.from),
        band.y(view.board.width),
        band.x(band.to),
        band.near,
    );
    let half = theme::SMALL * 0.365;
    let ends = [
        (band.from, "HOOK END", body.left - 9.0),
        (band.to, "FAR END", body.right + 9.0),
    ];
    for (at, words, x) in ends {
        let outer = at == Length::ZERO || at == view.board.length;
        let words = if outer { words } else { "GOES ON" };
        let text = name(words).middle().at(x + half, body.centre().y);
        drawing.text(text.upward());
    }
    let near = name("NEAR EDGE");
    let wide = near.length() + 4.0;
    let clear = |left: f64| below.leaders().all(|x| x < left - 2.0 || x > left + wide);
    let steps = ((body.width() - wide) / 4.0).max(0.0) as usize;
    let mut lefts = (0..=steps).map(|i| body.left + 4.0 * i as f64);
    let left = lefts.find(|&left| clear(left)).unwrap_or(body.left);
    drawing.text_on(near.at(left + 2.0, band.near + 10.0), theme::PAPER);
}

#[cfg(test)]
mod tests;
