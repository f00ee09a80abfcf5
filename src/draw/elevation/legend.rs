//! Below the elevation: what the shades and signs mean, and the scale.

use super::arrange::Frame;
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Job;
use crate::measure::Length;
use crate::plan::Plan;

/// Draws the legend. Gives where the drawing ends.
pub fn draw(drawing: &mut Drawing, job: &Job, plan: &Plan, frame: &Frame) -> f64 {
    let base = frame.bottom + 26.0;
    let mut x = theme::MARGIN;
    x = write(drawing, x, base, "tone");
    for tone in tones(job, plan) {
        let swatch = Rect::new(x, base - 9.0, x + 18.0, base + 2.0);
        drawing.fill(swatch, theme::tone_shade(tone));
        drawing.outline(swatch.corners(), 0.5, theme::INK);
        x = write(drawing, x + 21.0, base, &tone.to_string());
    }
    x += 8.0;
    let zigzag = [
        (0.0, -2.0),
        (4.0, 2.0),
        (8.0, -2.0),
        (12.0, 2.0),
        (16.0, -2.0),
    ];
    drawing.stroke(
        zigzag.map(|(dx, dy)| Point::new(x + dx, base - 3.0 + dy)),
        1.0,
        theme::INK,
    );
    x = write(drawing, x + 20.0, base, "break: the grain does not run on");
    let bracket = [(0.0, -5.0), (0.0, -2.0), (16.0, -2.0), (16.0, -5.0)];
    drawing.stroke(
        bracket.map(|(dx, dy)| Point::new(x + dx, base + dy)),
        0.6,
        theme::FAINT,
    );
    write(
        drawing,
        x + 20.0,
        base,
        "read together: one stretch of one board",
    );
    scale_bar(drawing, frame, base);
    base + 10.0
}

/// Writes a note; gives where the next thing may stand.
fn write(drawing: &mut Drawing, x: f64, base: f64, words: &str) -> f64 {
    let text = Text::new(words, x, base, theme::NOTE).ink(theme::FAINT);
    let end = text.extent().right + 8.0;
    drawing.text(text);
    end
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

/// A bar of a round length, told in both units.
fn scale_bar(drawing: &mut Drawing, frame: &Frame, base: f64) {
    let lengths = [
        (Length::from_inches(24.0), "24 in (610 mm)"),
        (Length::from_inches(12.0), "12 in (305 mm)"),
        (Length::from_inches(4.0), "4 in (102 mm)"),
    ];
    let on_sheet = |length: Length| length.inches() * frame.scale;
    let (length, words) = lengths
        .into_iter()
        .find(|(length, _)| on_sheet(*length) <= 90.0)
        .unwrap_or(lengths[2]);
    let right = theme::WIDTH - theme::MARGIN;
    let left = right - on_sheet(length);
    let y = base - 2.5;
    drawing.line(Point::new(left, y), Point::new(right, y), 1.2, theme::INK);
    for x in [left, right] {
        let (from, to) = (Point::new(x, y - 3.0), Point::new(x, y + 3.0));
        drawing.line(from, to, 0.8, theme::INK);
    }
    drawing.text(Text::new(words, left - 4.0, base, theme::NOTE).end());
}
