//! What the eye reads together: stretches, the boards they come from, and the breaks between.

use super::Sources;
use super::arrange::{Arrangement, BRACKET, Frame, Placed};
use crate::draw::board::board_name;
use crate::draw::font::{self, Weight};
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::{Grain, Job, Run};
use crate::plan::{Blank, BoardPlan, Plan};

/// Where a front, or one stave of it, comes from.
#[derive(Clone, Copy, Debug)]
pub struct Source<'a> {
    /// The board.
    pub cut: &'a BoardPlan,
    /// The blank on it.
    pub blank: &'a Blank,
}

/// The blanks of every front, in the order of the staves.
pub fn sources<'a>(job: &Job, plan: &'a Plan) -> Sources<'a> {
    let mut sources: Vec<Vec<Source>> = vec![Vec::new(); job.fronts.len()];
    for cut in &plan.boards {
        for strip in cut.sections.iter().flat_map(|section| &section.strips) {
            for blank in &strip.blanks {
                sources[blank.front].push(Source { cut, blank });
            }
        }
    }
    for staves in &mut sources {
        staves.sort_by_key(|source| source.blank.stave);
    }
    let made = |staves: Vec<Source<'a>>| (!staves.is_empty()).then_some(staves);
    sources.into_iter().map(made).collect()
}

/// The boards a front comes from: `B3`, or `B3 + B5` when it is glued from two.
pub fn boards(job: &Job, source: &[Source]) -> String {
    let mut names: Vec<String> = Vec::new();
    for one in source {
        let name = board_name(job, one.cut);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.join(" + ")
}

/// Fronts of a run that are cut in one stretch.
fn stretches<'a>(run: &'a Run, sources: &Sources) -> Vec<&'a [usize]> {
    let stretch = |&front: &usize| {
        sources[front]
            .as_ref()
            .map(|staves| staves[0].blank.stretch)
    };
    run.fronts
        .chunk_by(|a, b| stretch(a).is_some() && stretch(a) == stretch(b))
        .collect()
}

/// A small zigzag in the gap between two neighbours of a run that are not one stretch.
pub fn draw_breaks(
    drawing: &mut Drawing,
    job: &Job,
    arrangement: &Arrangement,
    frame: &Frame,
    sources: &Sources,
) {
    for run in &job.runs {
        for pair in stretches(run, sources).windows(2) {
            let ends = (pair[0].last(), pair[1].first());
            let (Some(&before), Some(&after)) = ends else {
                continue;
            };
            let made = sources[before].is_some() && sources[after].is_some();
            let (Some(a), Some(b)) = (find(arrangement, before), find(arrangement, after)) else {
                continue;
            };
            if made {
                let (a, b) = (frame.rect(a), frame.rect(b));
                zigzag(drawing, a, b, job.fronts[before].grain);
            }
        }
    }
}

fn find(arrangement: &Arrangement, front: usize) -> Option<&Placed> {
    arrangement.fronts.iter().find(|p| p.front == front)
}

/// The sign of a break, with a white edge that sets it off from the wood.
fn zigzag(drawing: &mut Drawing, a: Rect, b: Rect, grain: Grain) {
    let points: Vec<Point> = match grain {
        Grain::Horizontal => {
            let (x, top, bottom) = ((a.right + b.left) / 2.0, a.top.max(b.top), a.bottom);
            teeth(bottom - top)
                .map(|(along, side)| Point::new(x + side, top + along))
                .collect()
        }
        Grain::Vertical => {
            let (y, left) = ((a.top + b.bottom) / 2.0, a.left.max(b.left));
            let right = a.right.min(b.right);
            teeth(right - left)
                .map(|(along, side)| Point::new(left + along, y + side))
                .collect()
        }
    };
    drawing.stroke(points.clone(), 3.4, theme::PAPER);
    drawing.stroke(points, 0.9, theme::INK);
}

/// Corners of a zigzag: how far along, and how far to the side.
fn teeth(length: f64) -> impl Iterator<Item = (f64, f64)> {
    let count = (length / 5.0).round().max(3.0) as usize;
    (0..=count).map(move |i| {
        let side = if i % 2 == 0 { -1.6 } else { 1.6 };
        (length * i as f64 / count as f64, side)
    })
}

/// A bracket along every stretch, with the name of its board.
pub fn draw_brackets(
    drawing: &mut Drawing,
    job: &Job,
    arrangement: &Arrangement,
    frame: &Frame,
    sources: &Sources,
) {
    for run in &job.runs {
        for stretch in stretches(run, sources) {
            let rects: Vec<Rect> = stretch
                .iter()
                .filter_map(|&front| find(arrangement, front))
                .map(|placed| frame.rect(placed))
                .collect();
            let Some(all) = rects.into_iter().reduce(|a, b| {
                Rect::new(
                    a.left.min(b.left),
                    a.top.min(b.top),
                    a.right.max(b.right),
                    a.bottom.max(b.bottom),
                )
            }) else {
                continue;
            };
            let made = sources[stretch[0]].as_ref();
            let Some(name) = made.map(|source| boards(job, source)) else {
                continue;
            };
            if stretch.len() > 1 && frame.gap >= BRACKET {
                bracket(drawing, all, &name, job.fronts[stretch[0]].grain);
            }
        }
    }
}

/// A bracket below a row's stretch, beside a column's.
fn bracket(drawing: &mut Drawing, all: Rect, name: &str, grain: Grain) {
    let (corners, at, room) = match grain {
        Grain::Horizontal => {
            let (left, right, y) = (all.left + 1.0, all.right - 1.0, all.bottom + 4.5);
            let corners = [(left, y - 2.5), (left, y), (right, y), (right, y - 2.5)];
            (corners, Point::new(all.centre().x, y), all.width())
        }
        Grain::Vertical => {
            let (top, bottom, x) = (all.top + 1.0, all.bottom - 1.0, all.right + 4.5);
            let corners = [(x - 2.5, top), (x, top), (x, bottom), (x - 2.5, bottom)];
            (corners, Point::new(x, all.centre().y), all.height())
        }
    };
    drawing.stroke(corners.map(|(x, y)| Point::new(x, y)), 0.6, theme::FAINT);
    let Some(size) = font::fit(name, Weight::Regular, room - 8.0, 7.0, theme::LEAST) else {
        return;
    };
    let text = match grain {
        Grain::Horizontal => Text::new(name, at.x, at.y + size * 0.36, size),
        Grain::Vertical => Text::new(name, at.x + size * 0.36, at.y, size).upward(),
    };
    drawing.text_on(text.middle().ink(theme::FAINT), theme::CASE);
}
