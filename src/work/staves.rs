//! How much of a glued front each stave makes.

use crate::measure::Length;
use crate::plan::{Blank, Plan, placed};

/// A stave's share of its front, across the grain: its blank's width of all their widths.
pub fn stave_share(plan: &Plan, blank: &Blank) -> f64 {
    let (from, to) = stave_span(staves(plan, blank), blank);
    to - from
}

/// From where to where a stave reaches across its front, as shares of the front: stave 1 first
/// (the top one, the left one when the grain is vertical). `staves` are all blanks of the front.
pub fn stave_span<'b>(staves: impl IntoIterator<Item = &'b Blank>, blank: &Blank) -> (f64, f64) {
    let (mut before, mut own, mut all) = (Length::ZERO, Length::ZERO, Length::ZERO);
    for stave in staves {
        let wide = stave.high - stave.low;
        all += wide;
        if stave.stave < blank.stave {
            before += wide;
        } else if stave.stave == blank.stave {
            own += wide;
        }
    }
    if own <= Length::ZERO {
        return (0.0, 1.0);
    }
    let share = |wide: Length| wide.nm() as f64 / all.nm() as f64;
    (share(before), share(before + own))
}

/// All blanks of the front that a blank is for.
fn staves<'p>(plan: &'p Plan, blank: &Blank) -> impl Iterator<Item = &'p Blank> {
    let front = blank.front;
    let blanks = placed(plan).map(|(.., blank)| blank);
    blanks.filter(move |other| other.front == front)
}
