//! `[labels]`: the sheet of labels that `labels.pdf` is made for.

use super::trouble::KeyTrouble;
use super::{Keys, Section};
use crate::measure::{Length, Unit};

/// A sheet of labels: rows and columns of equal labels.
#[derive(Clone, Debug, PartialEq)]
pub struct Labels {
    /// The sheet.
    pub sheet: Sheet,
    /// Labels side by side.
    pub columns: i64,
    /// Labels one below another.
    pub rows: i64,
    /// From the sheet's upper edge to the first row, and from the last row to the lower edge.
    pub margin_top: Length,
    /// From the sheet's left edge to the first column, and from the last column to the right.
    pub margin_left: Length,
    /// Between columns.
    pub gap_across: Length,
    /// Between rows.
    pub gap_down: Length,
    /// The first label to print on, counted from 1 along the rows: those before it are gone.
    pub start: i64,
}

/// A sheet's size.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Sheet {
    /// Letter when the job is in inches, A4 when in millimetres.
    #[default]
    Auto,
    /// 8 1/2 by 11 in.
    Letter,
    /// 210 by 297 mm.
    A4,
}

/// A label smaller than this cannot hold a front's name.
const LEAST_WIDTH: Length = Length::from_nm(25_000_000);
/// The same for its height.
const LEAST_HEIGHT: Length = Length::from_nm(12_000_000);

impl Section for Labels {
    const NAME: &'static str = "labels";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.choice("sheet", &mut self.sheet);
        keys.whole("columns", 1..=20, &mut self.columns);
        keys.whole("rows", 1..=60, &mut self.rows);
        keys.length("margin_top", &mut self.margin_top);
        keys.length("margin_left", &mut self.margin_left);
        keys.length("gap_across", &mut self.gap_across);
        keys.length("gap_down", &mut self.gap_down);
        keys.whole("start", 1..=1200, &mut self.start);
        let both = [Sheet::Letter, Sheet::A4];
        let fits = |sheet: &Sheet| {
            let (width, height) = self.label_on(*sheet);
            width >= LEAST_WIDTH && height >= LEAST_HEIGHT
        };
        let fits = match self.sheet {
            Sheet::Auto => both.iter().all(fits),
            sheet => fits(&sheet),
        };
        if !fits {
            let unit = keys.unit();
            keys.fault_at("rows", KeyTrouble::LabelsTooSmall { unit });
        }
        if self.start > self.rows * self.columns {
            let last = self.rows * self.columns;
            keys.fault_at("start", KeyTrouble::NoSuchLabel { last });
        }
    }
}

impl Labels {
    /// Width and height of the sheet for a job in `unit`.
    pub fn sheet_size(&self, unit: Unit) -> (Length, Length) {
        match (self.sheet, unit) {
            (Sheet::Letter, _) | (Sheet::Auto, Unit::Inch) => Sheet::Letter.size(),
            (Sheet::A4, _) | (Sheet::Auto, Unit::Mm) => Sheet::A4.size(),
        }
    }

    /// Width and height of one label for a job in `unit`.
    pub fn label_size(&self, unit: Unit) -> (Length, Length) {
        match (self.sheet, unit) {
            (Sheet::Auto, Unit::Inch) => self.label_on(Sheet::Letter),
            (Sheet::Auto, Unit::Mm) => self.label_on(Sheet::A4),
            (sheet, _) => self.label_on(sheet),
        }
    }

    fn label_on(&self, sheet: Sheet) -> (Length, Length) {
        let (width, height) = sheet.size();
        let across = width - self.margin_left * 2 - self.gap_across * (self.columns - 1);
        let down = height - self.margin_top * 2 - self.gap_down * (self.rows - 1);
        (across / self.columns, down / self.rows)
    }
}

impl Sheet {
    /// Width and height, `Auto` as letter.
    fn size(self) -> (Length, Length) {
        match self {
            Sheet::Auto | Sheet::Letter => (Length::from_inches(8.5), Length::from_inches(11.0)),
            Sheet::A4 => (Length::from_mm(210.0), Length::from_mm(297.0)),
        }
    }
}

impl Labels {
    /// Three columns of ten on letter, a common sheet of address labels; three of eight on A4,
    /// 70 by 37 mm without margins at the sides or gaps (common practice, no source).
    pub fn of(unit: Unit) -> Labels {
        let size = |inches, mm| Length::round_in(unit, inches, mm);
        Labels {
            sheet: Sheet::Auto,
            columns: 3,
            rows: match unit {
                Unit::Inch => 10,
                Unit::Mm => 8,
            },
            margin_top: size(0.5, 0.5),
            margin_left: size(0.1875, 0.0),
            gap_across: size(0.125, 0.0),
            gap_down: Length::ZERO,
            start: 1,
        }
    }
}

impl Default for Labels {
    fn default() -> Labels {
        Labels::of(Unit::Inch)
    }
}
