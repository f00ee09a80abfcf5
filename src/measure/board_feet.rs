//! Board feet, the exact kind the cost is counted in.

use super::Length;

/// An amount of lumber in board feet (144 cubic inches), not rounded.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct BoardFeet(f64);

impl BoardFeet {
    /// None at all.
    pub const ZERO: BoardFeet = BoardFeet(0.0);

    /// From a plain number of board feet.
    pub fn new(feet: f64) -> BoardFeet {
        // A sum of nothing is minus zero, which nobody wants to read.
        BoardFeet(feet + 0.0)
    }

    /// Exact board feet of a piece: length x width x thickness in inches / 144, with a
    /// thickness under one inch counted as one inch.
    ///
    /// Source of the one-inch rule: AHEC/NHLA, The Illustrated Guide to American Hardwood
    /// Lumber Grades, Measurement section.
    pub fn of_piece(length: Length, width: Length, thickness: Length) -> BoardFeet {
        let counted = thickness.inches().max(1.0);
        BoardFeet(length.inches() * width.inches() * counted / 144.0)
    }

    /// The plain number.
    pub fn value(self) -> f64 {
        self.0
    }
}
