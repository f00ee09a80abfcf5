//! Content that flows from sheet to sheet.

use super::paper::Paper;
use crate::draw::{Anchor, Drawing, Ink, Point, Shape, Text, Weight, text_width, wrap};
use crate::measure::Ruler;
use crate::packet::document::Document;

/// Free around the content of a sheet, in points.
const MARGIN: f64 = 36.0;
/// Below the content, for the line at the foot.
const FOOT: f64 = 16.0;
/// How much of its size a drawing keeps when it gives way to what comes below.
const LEAST_SHARE: f64 = 0.75;
/// Words of less weight.
pub const FAINT: Ink = Ink(85, 85, 85);

/// Room that a drawing leaves for what comes below it, in points.
#[derive(Clone, Copy, Debug, Default)]
pub struct Below {
    /// What must stand on the same sheet.
    pub must: f64,
    /// What had better stand there too.
    pub may: f64,
}

/// Sheets being filled from top to bottom.
pub struct Flow<'a> {
    document: &'a Document,
    paper: Paper,
    sheets: Vec<Drawing>,
    /// The part each sheet belongs to.
    parts: Vec<String>,
    /// Where the next thing goes.
    pub y: f64,
    /// The column being filled: how far in from the margin, and how wide; all when `None`.
    column: Option<(f64, f64)>,
}

impl<'a> Flow<'a> {
    /// No sheet yet.
    pub fn new(document: &'a Document, paper: Paper) -> Flow<'a> {
        Flow {
            document,
            paper,
            sheets: Vec::new(),
            parts: Vec::new(),
            y: 0.0,
            column: None,
        }
    }

    /// Height that blocks added by `add` take in a column `width` wide, on a sheet without end.
    pub fn measure(&self, width: f64, add: impl FnOnce(&mut Flow)) -> f64 {
        let endless = Paper {
            height: 1e6,
            ..self.paper
        };
        let mut trial = Flow::new(self.document, endless);
        trial.new_sheet();
        trial.column = Some((0.0, width));
        let from = trial.y;
        add(&mut trial);
        trial.y - from
    }

    /// Adds two groups side by side, the left one with its `share` of the width: on a new sheet if
    /// they do not fit on this; one after the other when the right one fits on none.
    pub fn pair(&mut self, share: f64, left: impl Fn(&mut Flow), right: impl Fn(&mut Flow)) {
        let (gap, full) = (22.0, self.width());
        let left_width = (full - gap) * share;
        let right_width = full - gap - left_width;
        let right_height = self.measure(right_width, &right);
        let height = self.measure(left_width, &left).max(right_height);
        let fresh = self.bottom() - MARGIN;
        let full_here = |height: f64| self.y + height > self.bottom();
        if full_here(height) && height <= fresh || full_here(right_height) && right_height <= fresh
        {
            self.need(self.bottom());
        }
        if self.y + right_height > self.bottom() {
            left(self);
            right(self);
            return;
        }
        let (top, sheet) = (self.y, self.sheets.len());
        self.column = Some((left_width + gap, right_width));
        right(self);
        let right_end = self.y;
        self.column = Some((0.0, left_width));
        self.y = top;
        left(self);
        self.column = None;
        if self.sheets.len() == sheet {
            self.y = self.y.max(right_end);
        }
    }

    /// How lengths are written.
    pub fn ruler(&self) -> Ruler {
        self.document.ruler
    }

    /// Left edge of the content.
    pub fn left(&self) -> f64 {
        MARGIN + self.column.map_or(0.0, |(offset, _)| offset)
    }

    /// Width of the content.
    pub fn width(&self) -> f64 {
        let full = self.paper.width - 2.0 * MARGIN;
        self.column.map_or(full, |(_, width)| width)
    }

    /// Where the content must end.
    pub fn bottom(&self) -> f64 {
        self.paper.height - MARGIN - FOOT
    }

    /// Begins a part on a new sheet; a drawing that bears a title of its own needs no other.
    pub fn begin(&mut self, title: &str, titled: bool) {
        self.parts.push(title.to_owned());
        self.new_sheet();
        let first = self.sheets.len() == 1;
        if first {
            self.write_line(&self.document.title.clone(), 19.0, Weight::Bold);
            self.y += 2.0;
        }
        if !titled {
            self.write_line(title, 14.0, Weight::Bold);
            self.y += 4.0;
        }
    }

    /// The sheet being filled.
    pub fn sheet(&mut self) -> &mut Drawing {
        if self.sheets.is_empty() {
            self.new_sheet();
        }
        let last = self.sheets.len() - 1;
        &mut self.sheets[last]
    }

    /// Goes to a new sheet unless `height` still fits on this one. Says whether it did.
    pub fn need(&mut self, height: f64) -> bool {
        let full = self.y + height > self.bottom() + 1e-6;
        let fresh = self.y <= MARGIN + 1e-6;
        if full && !fresh {
            let part = self.parts.last().cloned().unwrap_or_default();
            self.parts.push(part);
            self.new_sheet();
        }
        full && !fresh
    }

    fn new_sheet(&mut self) {
        let title = format!("{}, sheet {}", self.document.title, self.sheets.len() + 1);
        self.sheets.push(Drawing {
            height: self.paper.height,
            ..Drawing::new(self.paper.width, title)
        });
        self.y = MARGIN;
    }

    /// Writes one line over the whole width, wrapped if it is too long.
    pub fn write_line(&mut self, words: &str, size: f64, weight: Weight) {
        let (left, width) = (self.left(), self.width());
        self.write_lines(words, size, weight, left, width);
    }

    /// Writes words wrapped into `width` from `left` on; each line moves the place down.
    pub fn write_lines(&mut self, words: &str, size: f64, weight: Weight, left: f64, width: f64) {
        for line in wrap(words, size, weight, width) {
            let step = size * 1.32;
            self.need(step);
            let text = Text {
                weight,
                ..Text::new(line, left, self.y + size, size)
            };
            self.sheet().text(text);
            self.y += step;
        }
    }

    /// Puts a drawing on the sheet, over the whole width, smaller if it is too high. It gives way
    /// a little so that what comes below stays on the same sheet.
    pub fn picture(&mut self, drawing: &Drawing, below: Below) {
        let room = self.bottom() - MARGIN - below.must;
        let most = (self.width() / drawing.width)
            .min(1.1)
            .min(room / drawing.height.max(1.0));
        let height = drawing.height * most;
        let room_above = |below: f64| self.bottom() - self.y - below;
        let smaller = [below.may, below.must].map(room_above).into_iter();
        let share = smaller
            .map(|room| (room / height).min(1.0))
            .find(|share| *share >= LEAST_SHARE);
        let scale = most * share.unwrap_or(1.0);
        self.need(drawing.height * scale);
        let offset = Point::new(
            self.left() + (self.width() - drawing.width * scale) / 2.0,
            self.y,
        );
        for shape in &drawing.shapes {
            let moved = moved(shape, scale, offset);
            self.sheet().shapes.push(moved);
        }
        self.y += drawing.height * scale + 6.0;
    }

    /// The sheets, each with a line at its foot.
    pub fn finish(mut self) -> Vec<Drawing> {
        let count = self.sheets.len();
        for (i, (sheet, part)) in self.sheets.iter_mut().zip(&self.parts).enumerate() {
            let base = self.paper.height - MARGIN + 4.0;
            let mut left = format!("{} · {part}", self.document.title);
            if let Some(date) = &self.document.date {
                left.push_str(&format!(" · {date}"));
            }
            let right = format!("{} / {count}", i + 1);
            let room = self.paper.width - 2.0 * MARGIN - 60.0;
            while text_width(&left, 8.0, Weight::Regular) > room && left.pop().is_some() {}
            sheet.text(Text::new(left, MARGIN, base, 8.0).ink(FAINT));
            let page = Text::new(right, self.paper.width - MARGIN, base, 8.0).ink(FAINT);
            sheet.text(Text {
                anchor: Anchor::End,
                ..page
            });
        }
        self.sheets
    }
}

/// A shape at another place and scale.
fn moved(shape: &Shape, scale: f64, offset: Point) -> Shape {
    let map = |p: &Point| Point::new(p.x * scale + offset.x, p.y * scale + offset.y);
    match shape {
        Shape::Area { points, fill } => Shape::Area {
            points: points.iter().map(map).collect(),
            fill: *fill,
        },
        Shape::Stroke { points, width, ink } => Shape::Stroke {
            points: points.iter().map(map).collect(),
            width: width * scale,
            ink: *ink,
        },
        Shape::Text(text) => Shape::Text(Text {
            at: map(&text.at),
            size: text.size * scale,
            ..text.clone()
        }),
    }
}
