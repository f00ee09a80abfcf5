//! How large a blank a front needs, and how near its neighbours may be.

use crate::job::{Allowances, Between, Front, Glue};
use crate::measure::Length;

/// Length of the blank along the grain: the finished length and `rough_length`.
pub fn blank_length(front: &Front, allowances: &Allowances) -> Length {
    front.along() + allowances.rough_length
}

/// Least width of a one-piece blank across the grain: the finished width and `rough_width`.
pub fn blank_width(front: &Front, allowances: &Allowances) -> Length {
    front.across() + allowances.rough_width
}

/// Least sum of the blank widths of a front glued from `staves` staves: one `joint` more for
/// each glued edge pair.
pub fn glued_width(front: &Front, staves: u32, allowances: &Allowances, glue: &Glue) -> Length {
    blank_width(front, allowances) + glue.joint * i64::from(staves.saturating_sub(1))
}

/// Least gap between a front's blank and that of its next neighbour in the same stretch.
///
/// A saw cut, or with [`Between::AsBuilt`] as much wood as the fronts are apart on the case
/// when that is more: the wood lost is the gap and one `rough_length`.
pub fn joint_gap(front: &Front, allowances: &Allowances) -> Length {
    let built = match (allowances.between, front.space_after) {
        (Between::AsBuilt, Some(space)) => space - allowances.rough_length,
        _ => Length::ZERO,
    };
    allowances.crosscut_kerf.max(built)
}

/// Farther apart than any two blanks of a board.
const FAR: Length = Length::from_nm(1_000_000_000_000_000);

/// Widest gap between the blanks of a front and its next neighbour in the same stretch, or nothing when
/// even a saw cut loses more wood than `longest_skip`. Fronts that need only look alike may lie anywhere.
pub fn widest_gap(front: &Front, allowances: &Allowances) -> Option<Length> {
    if front.alike {
        return Some(FAR);
    }
    let widest = allowances.longest_skip - allowances.rough_length;
    (widest >= allowances.crosscut_kerf).then_some(widest)
}
