//! Things side by side: two groups, or words that run down columns.

use super::super::paper::Paper;
use super::Flow;

/// The share of a sheet up to which things are kept together.
const MOST_KEPT: f64 = 0.7;

/// Columns of equal width on one sheet.
#[derive(Clone, Copy, Debug)]
pub struct Columns {
    /// How many.
    pub count: usize,
    /// The one being filled.
    pub now: usize,
    /// Where they begin.
    pub top: f64,
}

impl Flow<'_> {
    /// Height that blocks added by `add` take in a column `width` wide, on a sheet without end.
    pub fn measure(&self, width: f64, add: impl FnOnce(&mut Flow)) -> f64 {
        let endless = Paper {
            height: 1e6,
            ..self.paper
        };
        let mut trial = Flow::trial(self.document, endless);
        trial.style = self.style;
        trial.new_sheet();
        trial.column = Some((0.0, width));
        let from = trial.y;
        add(&mut trial);
        trial.y - from
    }

    /// Whether two groups side by side fit on what is left of the sheet.
    pub fn holds_pair(
        &self,
        share: f64,
        left: impl Fn(&mut Flow),
        right: impl Fn(&mut Flow),
    ) -> bool {
        let [(_, left_width), (_, right_width)] = self.halves(share);
        let height = self
            .measure(left_width, left)
            .max(self.measure(right_width, right));
        self.y + height <= self.bottom() + 1e-6
    }

    /// Where two columns side by side begin and how wide they are, the left one having its `share`
    /// of the width.
    fn halves(&self, share: f64) -> [(f64, f64); 2] {
        let (gap, full) = (22.0, self.width());
        let left = (full - gap) * share;
        [(0.0, left), (left + gap, full - gap - left)]
    }

    /// Adds two groups side by side, the left one with its `share` of the width: on a new sheet
    /// if they would be cut apart on this; one after the other when the right one fits on none.
    pub fn pair(&mut self, share: f64, left: impl Fn(&mut Flow), right: impl Fn(&mut Flow)) {
        let halves = self.halves(share);
        let right_height = self.measure(halves[1].1, &right);
        let height = self.measure(halves[0].1, &left).max(right_height);
        self.keep_together(height);
        self.keep_together(right_height);
        if self.y + right_height > self.bottom() {
            left(self);
            right(self);
            return;
        }
        let (top, sheet) = (self.y, self.sheets.len());
        self.column = Some(halves[1]);
        right(self);
        let right_end = self.y;
        self.column = Some(halves[0]);
        self.y = top;
        left(self);
        self.column = None;
        if self.sheets.len() == sheet {
            self.y = self.y.max(right_end);
        }
    }

    /// Adds things side by side, `count` of which would fill the width, none cut apart if a sheet
    /// holds them.
    pub fn row<T>(&mut self, count: usize, row: &[T], add: impl Fn(&mut Flow, &T)) {
        let gap = 16.0;
        let width = (self.width() - gap * (count as f64 - 1.0)) / count as f64;
        let high = |one: &T| self.measure(width, |trial| add(trial, one));
        let height = row.iter().map(high).fold(0.0, f64::max);
        self.need(height);
        let (top, mut end) = (self.y, self.y);
        for (i, one) in row.iter().enumerate() {
            self.column = Some(((width + gap) * i as f64, width));
            self.y = top;
            add(self, one);
            end = end.max(self.y);
        }
        self.column = None;
        self.y = end;
    }

    /// Goes on in a new column or on a new sheet if `height` would be cut apart here, but not if
    /// that leaves much of this one empty.
    pub fn keep_together(&mut self, height: f64) -> bool {
        let most = (self.bottom() - self.top()) * MOST_KEPT;
        height <= most && self.need(height)
    }

    /// Runs what `add` adds down `count` columns: of equal height when one sheet holds them.
    pub fn run_down(&mut self, count: usize, add: impl Fn(&mut Flow)) {
        if count > 1 {
            let top = self.y;
            self.columns = Some(Columns { count, now: 0, top });
            self.deepest = top;
            self.shorter = self.evened(&add);
        }
        add(self);
        self.ended = self.columns.map(|_| self.filled());
        if self.columns.is_some() {
            self.y = self.y.max(self.deepest);
        }
        (self.columns, self.shorter) = (None, (0.0, 0));
    }

    /// How much shorter the columns of the last sheet can be and still hold all, and which sheet
    /// that is.
    fn evened(&self, add: &impl Fn(&mut Flow)) -> (f64, usize) {
        let sheets = |shorter: f64, on: usize| {
            let mut trial = Flow::trial(self.document, self.paper);
            trial.new_sheet();
            (trial.style, trial.columns) = (self.style, self.columns);
            (trial.y, trial.shorter) = (self.y, (shorter, on));
            add(&mut trial);
            trial.count()
        };
        let last = sheets(0.0, 0);
        let holds = |shorter: f64| sheets(shorter, last) == last;
        let top = if last == 1 { self.y } else { self.top() };
        let (mut low, mut high) = (0.0, self.bottom() - top);
        for _ in 0..9 {
            let middle = (low + high) / 2.0;
            if holds(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        (low, self.count() + last - 1)
    }
}
