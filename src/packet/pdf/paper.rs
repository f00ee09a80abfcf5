//! Sheets of paper.

use crate::measure::{Length, Unit};

/// A sheet's size, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// Left to right.
    pub width: f64,
    /// Top to bottom.
    pub height: f64,
}

impl Paper {
    /// US letter, 8 1/2 by 11 in, standing (ANSI/ASME Y14.1, size A; from memory).
    pub const LETTER: Paper = Paper {
        width: 612.0,
        height: 792.0,
    };

    /// A4, 210 by 297 mm, standing (ISO 216; from memory).
    pub const A4: Paper = Paper {
        width: 210.0 / 25.4 * 72.0,
        height: 297.0 / 25.4 * 72.0,
    };

    /// The sheet usual where the unit is.
    pub fn of_unit(unit: Unit) -> Paper {
        match unit {
            Unit::Inch => Paper::LETTER,
            Unit::Mm => Paper::A4,
        }
    }

    /// A sheet of any size.
    pub fn of_size(width: Length, height: Length) -> Paper {
        Paper {
            width: width.inches() * 72.0,
            height: height.inches() * 72.0,
        }
    }

    /// The same sheet on its side.
    pub fn lying(self) -> Paper {
        Paper {
            width: self.width.max(self.height),
            height: self.width.min(self.height),
        }
    }
}
