//! What pricing is asked, and what it answers.

use crate::layout::model::pattern::Pattern;

/// A pattern and its value: prices less the cost of the wood and of the board's place.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Valued {
    pub(in crate::layout) pattern: Pattern,
    pub(in crate::layout) value: f64,
    /// Whether it can be cut just so; else it is worth at most this much, see [`explore`].
    pub(in crate::layout) sure: bool,
}

/// What pricing one kind of board found.
pub(in crate::layout) struct Priced {
    /// Patterns worth more than the threshold, best first.
    pub(in crate::layout) found: Vec<Valued>,
    /// No pattern of this kind is worth more than this (or than the threshold).
    pub(in crate::layout) upper: f64,
    /// Whether every pattern above the threshold has been found.
    pub(in crate::layout) complete: bool,
}

/// How far a walk may go.
#[derive(Clone, Copy)]
pub(in crate::layout) struct Limit<'s> {
    /// Half-made patterns looked at.
    pub(in crate::layout) nodes: usize,
    /// Patterns returned.
    pub(in crate::layout) found: usize,
    /// Half-made patterns remembered.
    pub(in crate::layout) remembered: usize,
    /// No more need be known of the best pattern than that it is worth no more than this, if anything.
    pub(in crate::layout) suffices: Option<f64>,
    /// Whether to raise the threshold to the worst of the best `found` as they come.
    pub(in crate::layout) best_only: bool,
    /// Asked now and then whether to give up.
    pub(in crate::layout) stop: &'s (dyn Fn() -> bool + Sync),
}
