//! The line at the foot of every sheet.

use super::{FAINT, Flow, MARGIN};
use crate::draw::{Anchor, Drawing, Text, Weight, text_width};

/// Size of the line at the foot.
const SMALL: f64 = 10.0;

impl Flow<'_> {
    /// The sheets, each with a line at its foot.
    pub fn finish(mut self) -> Vec<Drawing> {
        let count = self.sheets.len();
        for (i, (sheet, parts)) in self.sheets.iter_mut().zip(&self.parts).enumerate() {
            let base = sheet.height - MARGIN + 4.0;
            // Which plan it is must not be cut off where a sheet bears many parts.
            let title = Some(&self.document.title);
            let told = title.into_iter().chain(&self.document.plan);
            let told = self.document.notice.iter().chain(told);
            let told = told.chain(parts.iter()).chain(&self.document.date);
            let told: Vec<&str> = told.map(String::as_str).collect();
            let mut left = told.join(" · ");
            let right = format!("{} / {count}", i + 1);
            let room = sheet.width - 2.0 * MARGIN - 60.0;
            while text_width(&left, SMALL, Weight::Regular) > room && left.pop().is_some() {}
            sheet.text(Text::new(left, MARGIN, base, SMALL).ink(FAINT));
            let page = Text::new(right, sheet.width - MARGIN, base, SMALL).ink(FAINT);
            sheet.text(Text {
                anchor: Anchor::End,
                ..page
            });
        }
        self.sheets
    }
}
