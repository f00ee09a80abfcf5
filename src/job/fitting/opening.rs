//! One measured opening.

use serde::Serialize;

use super::{Anchor, BevelSize, Places};
use crate::measure::Length;
use crate::wood::Cut;

/// One row of `openings.csv`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Opening {
    /// The front that goes into it, by index into `Job::fronts`.
    pub front: usize,
    /// What was measured.
    pub measured: Measured,
    /// The front's bevel.
    pub bevel: OwnBevel,
    /// How many pulls the front gets; `None` leaves it to the job's rule.
    pub pulls: Option<u32>,
    /// Where the front keeps its place; `None` leaves it to the job's rule.
    pub anchor: Option<Anchor>,
    /// How the front's wood is sawn, when that is known.
    pub cut: Option<Cut>,
    /// Whatever the maker wrote.
    pub notes: String,
    /// Where in `openings.csv` these stand.
    pub places: Places,
}

/// A front's own word on its bevel.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum OwnBevel {
    /// As the job's rule says.
    #[default]
    AsRuled,
    /// None at all.
    None,
    /// The job's rule, but this size.
    Own(BevelSize),
}

/// What the tape and the pinch sticks said of one opening.
///
/// Under an arch, `left` and `right` are the heights at the corners and `top` is the straight
/// way from corner to corner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Measured {
    /// Inside height at the left.
    pub left: Length,
    /// Inside height at the right.
    pub right: Length,
    /// Inside width at the top.
    pub top: Length,
    /// Inside width at the bottom.
    pub bottom: Length,
    /// Lower left to upper right.
    pub diagonal_up: Option<Length>,
    /// Upper left to lower right.
    pub diagonal_down: Option<Length>,
}

/// One of the six measurements.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Inside height at the left.
    Left,
    /// Inside height at the right.
    Right,
    /// Inside width at the top.
    Top,
    /// Inside width at the bottom.
    Bottom,
    /// Lower left to upper right.
    DiagonalUp,
    /// Upper left to lower right.
    DiagonalDown,
}

impl Measure {
    /// All six, in the order of the columns.
    pub const ALL: [Measure; 6] = [
        Measure::Left,
        Measure::Right,
        Measure::Top,
        Measure::Bottom,
        Measure::DiagonalUp,
        Measure::DiagonalDown,
    ];

    /// The name of its column in `openings.csv`.
    pub fn column(self) -> &'static str {
        match self {
            Measure::Left => "left",
            Measure::Right => "right",
            Measure::Top => "top",
            Measure::Bottom => "bottom",
            Measure::DiagonalUp => "diagonal_up",
            Measure::DiagonalDown => "diagonal_down",
        }
    }
}

impl Measured {
    /// What was measured there.
    pub fn of(&self, measure: Measure) -> Option<Length> {
        match measure {
            Measure::Left => Some(self.left),
            Measure::Right => Some(self.right),
            Measure::Top => Some(self.top),
            Measure::Bottom => Some(self.bottom),
            Measure::DiagonalUp => self.diagonal_up,
            Measure::DiagonalDown => self.diagonal_down,
        }
    }
}
