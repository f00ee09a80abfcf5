//! One front of the elevation: outline, shade, grain and name.

use super::arrange::{Arrangement, Frame, Placed};
use super::figure::Figure;
use super::pulls::Pulls;
use super::said::Said;
use super::spans::{Source, boards};
use crate::draw::board::upright;
use crate::draw::hatch::hatch;
use crate::draw::shape::{Ink, Point, Rect};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::fit::{self, Arc, Sheet};
use crate::job::{Front, Grain, Job, Mode, Shape};
use crate::measure::Length;
use crate::plan::{Blank, End};
use crate::work::stave_span;

/// Draws a front that fills `rect`, its outline a `line` thick, its words larger than usual by a
/// factor; without a source it is not made.
pub fn draw(
    drawing: &mut Drawing,
    job: &Job,
    rect: Rect,
    (line, words): (f64, f64),
    (index, fitting): (usize, Option<&Sheet>),
    source: Option<&[Source]>,
) {
    let front = &job.fronts[index];
    let outline = Outline::of(front, rect);
    let pulls = Pulls::of(job, fitting, index, rect);
    let Some(staves) = source else {
        not_made(drawing, front, &outline, words);
        return;
    };
    let spans = || staves.iter().map(|source| source.blank);
    let part_of = |stave: &Source| stave_rect(front, rect, stave_span(spans(), stave.blank));
    for stave in staves {
        let part = part_of(stave);
        let shade = theme::tone_shade(job.boards[stave.cut.board].tone.value());
        drawing.area(outline.within(part), shade);
        grain(drawing, job, &outline, part, stave);
    }
    for stave in &staves[1..] {
        let part = part_of(stave);
        let [a, b, _, d] = part.corners();
        let end = match front.grain {
            Grain::Horizontal => b,
            Grain::Vertical => d,
        };
        drawing.line(a, end, 0.6, theme::INK);
    }
    drawing.outline(outline.points.clone(), line, theme::INK);
    let shade = theme::tone_shade(job.boards[staves[0].cut.board].tone.value());
    pulls.draw(drawing);
    let said = Said {
        front: &front.name,
        boards: boards(job, staves),
        tone: tone(job, staves),
    };
    said.draw(drawing, (rect, words), &pulls, shade);
}

/// The tone of the board a front is cut from, in its maker's words; of several nothing is said.
fn tone(job: &Job, staves: &[Source]) -> String {
    let boards = staves.iter().map(|source| &job.boards[source.cut.board]);
    let words = boards.map(|board| match board.tone_words.as_str() {
        "" => format!("tone {}", board.tone.value()),
        words => words.to_owned(),
    });
    let mut tones: Vec<String> = words.collect();
    tones.dedup();
    match tones.as_slice() {
        [one] => one.clone(),
        _ => String::new(),
    }
}

/// How far the shadow of an overlay front falls to the right and down, in points: it stands proud
/// of the case.
pub(super) const SHADOW: f64 = 2.0;

/// Draws the shadows of all overlay fronts. Tells whether there is one.
pub fn shadows(drawing: &mut Drawing, job: &Job, arrangement: &Arrangement, frame: &Frame) -> bool {
    let ruled = job.settings.fitting.gaps.mode;
    let overlay = |placed: &&Placed| {
        let mode = job.fronts[placed.front].mode.unwrap_or(ruled);
        mode == Mode::Overlay
    };
    let mut any = false;
    for placed in arrangement.fronts.iter().filter(overlay) {
        let rect = frame.rect(placed).shifted(Point::new(SHADOW, SHADOW));
        let outline = Outline::of(&job.fronts[placed.front], rect);
        drawing.area(outline.points, theme::FAINT);
        any = true;
    }
    any
}

/// A front's outline on the sheet.
pub(super) struct Outline {
    points: Vec<Point>,
    rect: Rect,
    /// Points on the sheet for a millimetre of the front.
    scale: f64,
    /// The curve over the front, in its millimetres.
    curve: Option<Arc>,
}

impl Outline {
    pub(super) fn of(front: &Front, rect: Rect) -> Outline {
        let width = front.width.mm();
        let corner = |x: f64, height: Length| fit::Point::new(x, height.mm());
        let curve = match front.shape {
            Shape::Square => None,
            Shape::Arch { rise } => {
                let side = front.height - rise;
                Arc::with_rise(corner(0.0, side), corner(width, side), rise.mm())
            }
            Shape::Slice {
                left,
                right,
                radius,
            } => Arc::with_radius(corner(0.0, left), corner(width, right), radius.mm()),
        };
        let mut outline = Outline {
            points: Vec::new(),
            rect,
            scale: rect.width() / width.max(1e-9),
            curve,
        };
        outline.points = outline.within(rect);
        outline
    }

    /// Where the upper edge lies at `x`.
    fn top(&self, x: f64) -> f64 {
        let along = (x - self.rect.left) / self.scale;
        match self.curve.and_then(|curve| curve.height_at(along)) {
            Some(height) => self.rect.bottom - height * self.scale,
            None => self.rect.top,
        }
    }

    /// Its upper edge from left to right.
    pub(super) fn over(&self) -> Vec<Point> {
        self.over_part(self.rect)
    }

    fn over_part(&self, part: Rect) -> Vec<Point> {
        let steps = if self.curve.is_some() { 48 } else { 1 };
        (0..=steps)
            .map(|i| part.left + part.width() * f64::from(i) / f64::from(steps))
            .map(|x| Point::new(x, self.top(x).clamp(part.top, part.bottom)))
            .collect()
    }

    /// The part of the outline inside `part`, as a polygon.
    fn within(&self, part: Rect) -> Vec<Point> {
        let mut points = self.over_part(part);
        points.push(Point::new(part.right, part.bottom));
        points.push(Point::new(part.left, part.bottom));
        points
    }

    pub(super) fn holds(&self, point: Point) -> bool {
        self.top(point.x) <= point.y + 1e-6
    }
}

/// The part of a front that one stave makes, from one share of the front to another: stave 1 at
/// the top (at the left when vertical).
pub(super) fn stave_rect(front: &Front, rect: Rect, (from, to): (f64, f64)) -> Rect {
    match front.grain {
        Grain::Horizontal => Rect::new(
            rect.left,
            rect.top + from * rect.height(),
            rect.right,
            rect.top + to * rect.height(),
        ),
        Grain::Vertical => Rect::new(
            rect.left + from * rect.width(),
            rect.top,
            rect.left + to * rect.width(),
            rect.bottom,
        ),
    }
}

/// Draws the figure as it will lie: the board's own lines, turned as the blank is turned.
fn grain(drawing: &mut Drawing, job: &Job, outline: &Outline, part: Rect, stave: &Source) {
    let blank = stave.blank;
    let front = &job.fronts[blank.front];
    let figure = Figure::of(&job.boards[stave.cut.board]);
    // The finished piece lies in the middle of its blank.
    let trim = (blank.to - blank.from - front.along()).inches() / 2.0;
    let (from, to) = (blank.from.inches() + trim, blank.to.inches() - trim);
    let (low, high) = (blank.low.inches(), blank.high.inches());
    for line in figure.lines(from, to) {
        let points = line.into_iter().map(|(along, across)| {
            let share = ((along - from) / (to - from), (across - low) / (high - low));
            let inside = (0.0..=1.0).contains(&share.1);
            let point = on_front(share, part, blank, front.grain);
            (inside && outline.holds(point)).then_some(point)
        });
        let points: Vec<Option<Point>> = points.collect();
        for piece in points.split(Option::is_none) {
            if piece.len() > 1 {
                let piece: Vec<Point> = piece.iter().flatten().copied().collect();
                drawing.stroke(thin_out(piece), 0.35, Ink(120, 98, 74));
            }
        }
    }
}

/// Leaves out points that lie on the line between their neighbours.
fn thin_out(points: Vec<Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for (i, &point) in points.iter().enumerate() {
        let straight = match (kept.last(), points.get(i + 1)) {
            (Some(a), Some(b)) => {
                let length = (b.x - a.x).hypot(b.y - a.y).max(1e-9);
                let off = (b.x - a.x) * (point.y - a.y) - (b.y - a.y) * (point.x - a.x);
                off.abs() / length < 0.06
            }
            _ => false,
        };
        if !straight {
            kept.push(point);
        }
    }
    kept
}

/// A point of a blank, given as shares along from its hook-side end and across from its near
/// edge, on the front as it hangs on the case.
fn on_front((along, across): (f64, f64), part: Rect, blank: &Blank, grain: Grain) -> Point {
    let forward = match blank.left {
        End::Hook => along,
        End::Far => 1.0 - along,
    };
    let upward = if upright(blank) { across } else { 1.0 - across };
    match grain {
        Grain::Horizontal => Point::new(
            part.left + forward * part.width(),
            part.bottom - upward * part.height(),
        ),
        Grain::Vertical => Point::new(
            part.right - upward * part.width(),
            part.bottom - forward * part.height(),
        ),
    }
}

fn not_made(drawing: &mut Drawing, front: &Front, outline: &Outline, words: f64) {
    drawing.area(outline.points.clone(), theme::PAPER);
    for (a, b) in hatch(outline.rect.inset(0.5), 9.0) {
        if outline.holds(b) {
            drawing.line(a, b, 0.4, theme::FAINT);
        }
    }
    drawing.outline(outline.points.clone(), 1.0, theme::INK);
    let said = Said {
        front: &front.name,
        boards: "not made".to_owned(),
        tone: String::new(),
    };
    let room = (outline.rect, words);
    said.draw(drawing, room, &Pulls::default(), theme::PAPER);
}
