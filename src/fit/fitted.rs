//! One front, fitted.

use super::arc::Ordinate;
use super::bevel::{Bevel, Flat};
use super::caution::Caution;
use super::opening::Solved;
use super::outline::Outline;
use super::point::Point;
use super::pulls::PullMarks;
use super::reveal::Reveal;
use super::season::{Movement, Seasons};
use super::wedge::Wedge;
use crate::job::{Edges, Grain, Measured, Mode};
use crate::measure::Length;
use crate::wood::Cut;

/// One finished front: its outline, and everything its fitting needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// Index into `Job::fronts`.
    pub front: usize,
    /// The front's name.
    pub name: String,
    /// Its finished thickness.
    pub thickness: Length,
    /// Which way its grain goes.
    pub grain: Grain,
    /// Whether it sits inside its opening or covers the frame around it.
    pub mode: Mode,
    /// The opening it was fitted to; without one its outline is as drawn.
    pub opening: Option<FittedOpening>,
    /// The finished front on the day of fitting.
    pub outline: Outline,
    /// Its wood's moisture through the year, when a climate and a species are given.
    pub seasons: Option<Seasons>,
    /// How its wood is sawn, as far as known.
    pub cut: Option<Cut>,
    /// How it was taken to be sawn when its size was reckoned; nothing without a climate.
    pub reckoned: Option<Cut>,
    /// The caution about that, if any.
    pub(super) sawn_otherwise: Option<Caution>,
    /// What the seasons do to it.
    pub movement: Movement,
    /// The gap between it and a neighbour, when it is an overlay and the divider is known.
    pub reveal: Option<Reveal>,
    /// What comes off its rectangular blank, in the order it is cut.
    pub wedges: Vec<Wedge>,
    /// Its bevel.
    pub bevel: Option<FittedBevel>,
    /// The curve over it.
    pub arch: Option<FittedArch>,
    /// Its pulls.
    pub pulls: Option<PullMarks>,
    /// What to look at again.
    pub cautions: Vec<Caution>,
    /// Whatever the maker wrote of the opening.
    pub notes: String,
}

/// A front's opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittedOpening {
    /// As measured.
    pub measured: Measured,
    /// Its corners.
    pub solved: Solved,
    /// Its outline.
    pub outline: Outline,
    /// Where the front's lower left corner stands on the day of fitting, from the opening's.
    pub stands: Point,
    /// How much more than asked for a front covers at the most: one that covers a leaning opening
    /// is square itself.
    pub extra: Edges<f64>,
}

/// A front's bevel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittedBevel {
    /// Its measures.
    pub bevel: Bevel,
    /// Which edges have it.
    pub on: Edges<bool>,
    /// Thickness left at those edges.
    pub edge_left: Length,
    /// The flat left in the middle of the face; nothing when the bevels meet anywhere.
    pub flat: Option<Flat>,
}

/// The curve over a front's top.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedArch {
    /// The arch's name, when several fronts share it.
    pub shared: Option<String>,
    /// Radius of the front's curve.
    pub radius: Length,
    /// Radius of the opening's curve.
    pub opening_radius: Length,
    /// From the front's lower left corner to the curve's centre line, along the bottom edge.
    pub centre_line: Length,
    /// From the bottom edge down to the circle's centre, along the centre line.
    pub centre_below: Length,
    /// Finished height at the left corner.
    pub left: Length,
    /// Finished height at the right corner.
    pub right: Length,
    /// Finished height at the crest, when it lies on this front.
    pub crest: Option<Length>,
    /// Whether the shop can swing a trammel of that radius; a sprung batten draws it if not.
    pub trammel: bool,
    /// Heights along the curve.
    pub ordinates: Vec<Ordinate>,
}

impl Fitted {
    /// Width of the finished blank: the smallest rectangle that holds the front.
    pub fn width(&self) -> Length {
        Length::from_mm(self.outline.width())
    }

    /// Whether its sides, and a straight top, are square to its bottom.
    pub fn is_square(&self) -> bool {
        self.wedges.is_empty()
    }

    /// Height of the finished blank.
    pub fn height(&self) -> Length {
        Length::from_mm(self.outline.height())
    }
}
