//! The gap between two overlay fronts that cover one divider from either side.

use super::season::{Movement, Season};
use crate::job::{Edges, Gaps, Mode};
use crate::measure::Length;

/// What a front and a neighbour like it leave open between them. Which front is whose neighbour
/// is not told by a job, so the neighbour is taken to have the same size, wood and overlaps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reveal {
    /// Width of the divider both cover.
    pub divider: Length,
    /// How much more than asked for they cover where they cover the most.
    extra: Edges<f64>,
}

impl Reveal {
    /// Nothing for inset fronts, whose gaps lie in their own openings, or when no divider is named.
    pub(super) fn of(gaps: &Gaps, mode: Mode, extra: Edges<f64>) -> Option<Reveal> {
        let divider = gaps.divider.filter(|_| mode == Mode::Overlay);
        divider.map(|divider| Reveal { divider, extra })
    }

    /// Between two such fronts, one above the other. Below zero they overlap.
    pub fn stacked(&self, movement: &Movement, season: Season) -> Length {
        let cover = movement.gaps(season);
        let more = self.extra.top + self.extra.bottom;
        self.divider - Length::from_mm(cover.top + cover.bottom + more)
    }

    /// Between two such fronts, one beside the other.
    pub fn beside(&self, movement: &Movement, season: Season) -> Length {
        let cover = movement.gaps(season);
        let more = self.extra.left + self.extra.right;
        self.divider - Length::from_mm(cover.left + cover.right + more)
    }
}
