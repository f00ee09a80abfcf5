//! Below the elevation: what the shades and signs mean, and the scale.

use super::arrange::{BRACKET, Frame};
use super::front::SHADOW;
use crate::draw::shape::{Ink, Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Job;
use crate::measure::{Length, Unit};
use crate::plan::Plan;

/// Draws the legend, its words larger than usual by a factor. Gives where the drawing ends.
pub fn draw(
    drawing: &mut Drawing,
    (job, plan): (&Job, &Plan),
    (frame, bottom): (&Frame, f64),
    (dividers, proud): (bool, bool),
    (larger, unit): (f64, Unit),
) -> f64 {
    let base = bottom + 15.0;
    let end = scale_bar(drawing, frame, base, unit) - 12.0;
    let mut line = Line {
        at: Point::new(theme::MARGIN, base),
        end,
        size: theme::NOTE * larger.min(1.3),
    };
    line.item(drawing, 0.0, "tone", |_, _| {});
    for tone in tones(job, plan) {
        let words = in_words(job, plan, tone);
        line.item(drawing, 18.0, &words, |drawing, swatch| {
            shade(drawing, swatch, theme::tone_shade(tone));
        });
    }
    if dividers {
        line.item(drawing, 10.0, "divider", |drawing, swatch| {
            shade(drawing, swatch, theme::WASTE);
        });
    }
    if proud {
        line.item(drawing, 12.0, "overlay: covers its opening", overlay);
    }
    line.item(drawing, 16.0, "break: the grain does not run on", zigzag);
    if frame.gap >= BRACKET {
        let together = "read together: one stretch of one board";
        line.item(drawing, 16.0, together, bracket);
    }
    line.at.y + 6.0
}

/// A tone's number, and its maker's own words for it.
fn in_words(job: &Job, plan: &Plan, tone: f64) -> String {
    let used = plan.boards.iter().map(|cut| &job.boards[cut.board]);
    let same = used.filter(|board| board.tone.value() == tone);
    let words = same.map(|board| board.tone_words.as_str());
    match words.filter(|words| !words.is_empty()).min() {
        Some(words) => format!("{tone} {words}"),
        None => tone.to_string(),
    }
}

/// Where the next sign of the legend goes, and where the line ends.
struct Line {
    at: Point,
    end: f64,
    size: f64,
}

impl Line {
    /// Draws a sign, `wide` points, and what it means; on the next line when this one is full.
    fn item(
        &mut self,
        drawing: &mut Drawing,
        wide: f64,
        words: &str,
        sign: impl Fn(&mut Drawing, Rect),
    ) {
        let space = if wide > 0.0 { 4.0 } else { 0.0 };
        let text = Text::new(words, 0.0, 0.0, self.size).ink(theme::FAINT);
        let long = wide + space + text.length();
        if self.at.x + long > self.end && self.at.x > theme::MARGIN {
            self.at = Point::new(theme::MARGIN, self.at.y + self.size * 2.0);
        }
        let Point { x, y } = self.at;
        sign(drawing, Rect::new(x, y - 9.0, x + wide, y + 2.0));
        drawing.text(text.at(x + wide + space, y));
        self.at.x += long + 10.0;
    }
}

fn shade(drawing: &mut Drawing, swatch: Rect, ink: Ink) {
    drawing.fill(swatch, ink);
    drawing.outline(swatch.corners(), 0.5, theme::INK);
}

fn overlay(drawing: &mut Drawing, room: Rect) {
    let front = Rect::new(
        room.left,
        room.top,
        room.right - SHADOW,
        room.bottom - SHADOW,
    );
    drawing.fill(front.shifted(Point::new(SHADOW, SHADOW)), theme::FAINT);
    shade(drawing, front, theme::PAPER);
}

fn zigzag(drawing: &mut Drawing, room: Rect) {
    let teeth = [(0.0, 4.0), (4.0, 8.0), (8.0, 4.0), (12.0, 8.0), (16.0, 4.0)];
    let points = teeth.map(|(dx, dy)| Point::new(room.left + dx, room.top + dy));
    drawing.stroke(points, 1.0, theme::INK);
}

fn bracket(drawing: &mut Drawing, room: Rect) {
    let corners = [(0.0, 4.0), (0.0, 7.0), (16.0, 7.0), (16.0, 4.0)];
    let points = corners.map(|(dx, dy)| Point::new(room.left + dx, room.top + dy));
    drawing.stroke(points, 0.6, theme::FAINT);
}

/// Up to six of the tones used, palest first, the palest and the darkest always among them.
fn tones(job: &Job, plan: &Plan) -> Vec<f64> {
    let used = plan
        .boards
        .iter()
        .map(|cut| job.boards[cut.board].tone.value());
    let mut tones: Vec<f64> = used.collect();
    tones.sort_by(f64::total_cmp);
    tones.dedup();
    let most = 6;
    if tones.len() <= most {
        return tones;
    }
    let last = tones.len() - 1;
    (0..most).map(|i| tones[i * last / (most - 1)]).collect()
}

/// A bar of a round length at the right. Gives where its words begin.
fn scale_bar(drawing: &mut Drawing, frame: &Frame, base: f64, unit: Unit) -> f64 {
    let lengths = match unit {
        Unit::Inch => [
            (Length::from_inches(24.0), "24 in"),
            (Length::from_inches(12.0), "12 in"),
            (Length::from_inches(4.0), "4 in"),
        ],
        Unit::Mm => [
            (Length::from_mm(500.0), "500 mm"),
            (Length::from_mm(200.0), "200 mm"),
            (Length::from_mm(100.0), "100 mm"),
        ],
    };
    let on_sheet = |length: Length| length.inches() * frame.scale;
    let (length, words) = lengths
        .into_iter()
        .find(|(length, _)| on_sheet(*length) <= 90.0)
        .unwrap_or(lengths[2]);
    let right = frame.right;
    let left = right - on_sheet(length);
    let y = base - 2.5;
    drawing.line(Point::new(left, y), Point::new(right, y), 1.2, theme::INK);
    for x in [left, right] {
        let (from, to) = (Point::new(x, y - 3.0), Point::new(x, y + 3.0));
        drawing.line(from, to, 0.8, theme::INK);
    }
    let words = Text::new(words, left - 4.0, base, theme::NOTE).end();
    let start = words.extent().left;
    drawing.text(words);
    start
}
