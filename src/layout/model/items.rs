//! The ways to cut neighbours of a run.

use std::ops::Range;

/// One way to cut consecutive rows of a run: a stretch in one piece, or one stave of it.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Item {
    pub(in crate::layout) run: usize,
    /// The fronts' rows.
    pub(in crate::layout) rows: Range<usize>,
    /// Blank lengths in run order.
    pub(in crate::layout) lengths: Vec<i64>,
    /// Least gap after each blank but the last.
    pub(in crate::layout) gaps: Vec<i64>,
    /// Widest gap.
    pub(in crate::layout) widest_gap: i64,
    /// Blank width in one piece; the least width of a stave.
    pub(in crate::layout) width: i64,
    /// Length with the least gaps.
    pub(in crate::layout) length: i64,
    /// Length to reserve in the strip: `length`, or the shortest safe length.
    pub(in crate::layout) room: i64,
    /// Index into `gluings`, when it is a stave.
    pub(in crate::layout) gluing: Option<usize>,
}

/// A stretch glued from `staves` staves.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::layout) struct Gluing {
    /// The fronts' rows.
    pub(in crate::layout) rows: Range<usize>,
    pub(in crate::layout) staves: usize,
    /// Least sum of the staves' blank widths.
    pub(in crate::layout) total_width: i64,
    /// What patterns must be wide together: as much, or where not all [`rests`](Gluing::rests) are listed, less by
    /// what a rest that is not may be wider than the next that is. No plan is lost so, and a bound stays one.
    pub(in crate::layout) asked_width: i64,
    /// No stave need be wider: the others are at least as wide as allowed.
    pub(in crate::layout) widest: i64,
    /// Its stave, index into `items`.
    pub(in crate::layout) item: usize,
    /// Widths that the other staves may leave missing and that are no multiples of the step, in order.
    pub(in crate::layout) rests: Vec<i64>,
}

impl Gluing {
    /// Whether staves `width` wide would not do for all of it.
    pub(in crate::layout) fn narrow(&self, width: i64) -> bool {
        width * (self.staves as i64) < self.asked_width
    }

    /// How wide the widest stave is at least where another is only `narrow` wide: an equal share of
    /// what that one leaves. Where more are that narrow, it is wider still.
    pub(in crate::layout) fn partner(&self, narrow: i64) -> i64 {
        let others = (self.staves as i64 - 1).max(1);
        (self.asked_width - narrow + others - 1) / others
    }
}
