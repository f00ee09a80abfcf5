//! The least board that makes a front, or a whole run, in one piece.

use super::{blank_length, blank_width, joint_gap};
use crate::job::{Allowances, Front};
use crate::measure::Length;

/// The least flat and clear board, rough.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LeastBoard {
    /// Along the grain, with the trim off its ends.
    pub long: Length,
    /// Across it, with the trim off its edges.
    pub wide: Length,
    /// Its thickness.
    pub thick: Length,
}

/// Length and width of the strip that fronts take when they are cut one after another, in order.
pub fn stretch_size(fronts: &[&Front], allowances: &Allowances) -> (Length, Length) {
    let blanks: Length = fronts.iter().map(|f| blank_length(f, allowances)).sum();
    let joints = &fronts[..fronts.len().saturating_sub(1)];
    let gaps: Length = joints.iter().map(|f| joint_gap(f, allowances)).sum();
    let widths = fronts.iter().map(|f| blank_width(f, allowances));
    (blanks + gaps, widths.max().unwrap_or_default())
}

/// The least board for fronts cut one after another, in order.
pub fn least_board(fronts: &[&Front], allowances: &Allowances) -> LeastBoard {
    let (long, wide) = stretch_size(fronts, allowances);
    let thick = fronts.iter().map(|front| front.thickness).max();
    LeastBoard {
        long: long.max(allowances.shortest_safe) + allowances.end_trim * 2,
        wide: wide + allowances.edge_trim * 2,
        thick: thick.unwrap_or_default() + allowances.plane * 2,
    }
}
