//! Content that flows from column to column and from sheet to sheet.

mod columns;
mod foot;
mod pictures;

use super::paper::Paper;
use super::style::Style;
use crate::draw::{Drawing, Ink, Point, Text, Weight, text_width, wrap};
use crate::measure::Ruler;
use crate::packet::document::{Document, OVERVIEW, Part};
use columns::Columns;
pub use pictures::Below;

/// Free around the content of a sheet, in points.
const MARGIN: f64 = 28.0;
/// Below the content, for the line at the foot.
const FOOT: f64 = 16.0;
/// What of a sheet's height lies below its content.
pub const BELOW_CONTENT: f64 = MARGIN + FOOT;
/// Between columns that words run down.
const GUTTER: f64 = 24.0;
/// Size of the words beside a part's heading.
const SUBTITLE: f64 = 10.5;
/// Between two parts on one sheet.
const ABOVE_PART: f64 = 18.0;
/// No part begins lower on a sheet than leaves so much for it.
const PART: f64 = 90.0;
/// Words of less weight.
pub const FAINT: Ink = Ink(85, 85, 85);

/// Where a part begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Begin {
    /// On a sheet of its own.
    Anew,
    /// Below what is there, if there is room for its beginning.
    Below,
}

/// Sheets being filled from top to bottom.
#[derive(Clone)]
pub struct Flow<'a> {
    document: &'a Document,
    paper: Paper,
    style: Style,
    /// Only to see how much room things take: nothing is drawn.
    trial: bool,
    sheets: Vec<Drawing>,
    /// The parts on each sheet.
    parts: Vec<Vec<String>>,
    /// The part being laid out.
    part: String,
    /// Where the next thing goes.
    pub y: f64,
    /// Rows of tables in which a cell before the last takes more than one line.
    pub torn: usize,
    /// The column being filled: how far in from the margin, and how wide; all when `None`.
    column: Option<(f64, f64)>,
    /// Columns that words run down, one after another.
    columns: Option<Columns>,
    /// How much sooner than need be columns end, so that they come out alike, and on which sheet.
    shorter: (f64, usize),
    /// How far down the columns of this sheet go.
    deepest: f64,
    /// How full the sheet was when its columns ended.
    ended: Option<f64>,
}

impl<'a> Flow<'a> {
    /// No sheet yet.
    pub fn new(document: &'a Document, paper: Paper) -> Flow<'a> {
        Flow {
            document,
            paper,
            style: Style::PLAIN,
            trial: false,
            sheets: Vec::new(),
            parts: Vec::new(),
            part: String::new(),
            y: 0.0,
            torn: 0,
            column: None,
            columns: None,
            shorter: (0.0, 0),
            deepest: 0.0,
            ended: None,
        }
    }

    /// The same, but nothing is drawn.
    pub fn trial(document: &'a Document, paper: Paper) -> Flow<'a> {
        Flow {
            trial: true,
            ..Flow::new(document, paper)
        }
    }

    /// A size of words, as the style has it; none smaller than eight points that is not always.
    pub fn sized(&self, usual: f64) -> f64 {
        (usual * self.style.words).max(usual.min(8.0))
    }

    /// How lengths are written.
    pub fn ruler(&self) -> Ruler {
        self.document.ruler
    }

    /// Left edge of the content.
    pub fn left(&self) -> f64 {
        let running = self.columns.map_or(0.0, |columns| {
            columns.now as f64 * (self.column_width(columns) + GUTTER)
        });
        MARGIN + running + self.column.map_or(0.0, |(offset, _)| offset)
    }

    /// Width of the content.
    pub fn width(&self) -> f64 {
        match (self.column, self.columns) {
            (Some((_, width)), _) => width,
            (None, Some(columns)) => self.column_width(columns),
            (None, None) => self.full_width(),
        }
    }

    fn full_width(&self) -> f64 {
        self.paper.width - 2.0 * MARGIN
    }

    fn column_width(&self, columns: Columns) -> f64 {
        let count = columns.count as f64;
        (self.full_width() - (count - 1.0) * GUTTER) / count
    }

    /// Where the content begins.
    pub fn top(&self) -> f64 {
        self.columns.map_or(MARGIN, |columns| columns.top)
    }

    /// Whether drawings are to be low.
    pub fn is_low(&self) -> bool {
        self.style.most_picture < 1.0
    }

    /// Where the content must end.
    pub fn bottom(&self) -> f64 {
        let (shorter, sheet) = self.shorter;
        let less = if self.sheets.len() == sheet {
            shorter
        } else {
            0.0
        };
        self.paper.height - BELOW_CONTENT - less
    }

    /// The share of the sheet that is filled.
    pub fn filled(&self) -> f64 {
        if let Some(ended) = self.ended {
            return ended;
        }
        let column = (self.y - self.top()) / (self.bottom() - self.top());
        match self.columns {
            Some(columns) => (columns.now as f64 + column) / columns.count as f64,
            None => column,
        }
    }

    /// Sheets begun.
    pub fn count(&self) -> usize {
        self.sheets.len()
    }

    /// Begins a part on a new sheet, or below what is there; on the first one the title of all
    /// stands for the part's own.
    pub fn begin(&mut self, part: &Part, style: Style, begin: Begin) {
        self.part.clone_from(&part.title);
        (self.columns, self.ended) = (None, None);
        self.style = style;
        let begun = !self.sheets.is_empty();
        if begin == Begin::Below && begun && self.y + PART <= self.bottom() {
            self.y += ABOVE_PART;
            self.rule();
            self.name_part();
        } else {
            self.new_sheet();
        }
        let (title, size) = match self.sheets.len() {
            1 if !self.trial && !begun => match part.id == OVERVIEW {
                true => (self.document.title.clone(), 20.0),
                false if self.document.title.is_empty() => (part.title.clone(), 20.0),
                false => (format!("{}: {}", self.document.title, part.title), 20.0),
            },
            _ => (part.title.clone(), 16.0),
        };
        let top = self.y;
        self.write_line(&title, size, Weight::Bold);
        let after = MARGIN + text_width(&title, size, Weight::Bold) + 14.0;
        let facts = part.subtitle.show(self.ruler());
        let beside = self.paper.width - MARGIN - after;
        if text_width(&facts, SUBTITLE, Weight::Regular) <= beside {
            let text = Text::new(facts, after, top + size, SUBTITLE).ink(FAINT);
            self.sheet().text(text);
        } else {
            self.write_line(&facts, SUBTITLE, Weight::Regular);
        }
        self.y += 4.0;
    }

    /// The sheet being filled.
    pub fn sheet(&mut self) -> &mut Drawing {
        if self.sheets.is_empty() {
            self.new_sheet();
        }
        let last = self.sheets.len() - 1;
        if self.trial {
            self.sheets[last].shapes.clear();
        }
        &mut self.sheets[last]
    }

    /// Goes to the next column or a new sheet unless `height` still fits here. Says whether it
    /// did.
    pub fn need(&mut self, height: f64) -> bool {
        let sheet = self.paper.height - 2.0 * MARGIN - FOOT;
        let mut goes_on = false;
        while self.y + height > self.bottom() + 1e-6 {
            // Columns that begin low on a sheet may all be too short.
            let is_short = self.top() > MARGIN && height <= sheet;
            if self.is_fresh() && !is_short {
                break;
            }
            self.go_on();
            goes_on = true;
        }
        goes_on
    }

    /// Whether nothing stands in the column yet.
    pub fn is_fresh(&self) -> bool {
        self.y <= self.top() + 1e-6
    }

    /// Leaves some space, but not above the first thing of a column.
    pub fn leave(&mut self, space: f64) {
        if !self.is_fresh() {
            self.y += space;
        }
    }

    fn go_on(&mut self) {
        match &mut self.columns {
            Some(columns) if columns.now + 1 < columns.count => {
                columns.now += 1;
                self.deepest = self.deepest.max(self.y);
                self.y = columns.top;
                return;
            }
            Some(columns) => (columns.now, columns.top) = (0, MARGIN),
            None => {}
        }
        self.new_sheet();
    }

    /// The foot of the sheet names the part too.
    fn name_part(&mut self) {
        let part = self.part.clone();
        if let Some(parts) = self.parts.last_mut().filter(|parts| !parts.contains(&part)) {
            parts.push(part);
        }
    }

    /// A line across the sheet, between two parts.
    fn rule(&mut self) {
        let (left, right) = (MARGIN, self.paper.width - MARGIN);
        let y = self.y - ABOVE_PART / 2.0;
        let ends = [Point::new(left, y), Point::new(right, y)];
        self.sheet().stroke(ends, 0.8, Ink::BLACK);
    }

    fn new_sheet(&mut self) {
        self.parts.push(vec![self.part.clone()]);
        self.deepest = 0.0;
        let title = match self.trial {
            true => String::new(),
            false => format!("{}, sheet {}", self.document.title, self.sheets.len() + 1),
        };
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
        // Words may go on in the next column.
        let indent = left - self.left();
        for line in wrap(words, size, weight, width) {
            let step = size * 1.32;
            self.need(step);
            let left = self.left() + indent;
            let text = Text {
                weight,
                ..Text::new(line, left, self.y + size, size)
            };
            self.sheet().text(text);
            self.y += step;
        }
    }
}
