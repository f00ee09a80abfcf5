//! What a long search tells whoever waits for it, and how it is asked to stop.

use std::time::Instant;

/// Where the search stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct News {
    /// Cost of the best plan so far.
    pub cost: f64,
    /// No plan costs less than this, as far as is known.
    pub bound: f64,
    /// Fronts the best plan makes.
    pub made: usize,
    /// Seconds since the search began.
    pub seconds: f64,
}

/// Someone who waits for a plan.
pub trait Watch: Sync {
    /// Called whenever the best plan or the bound has improved.
    fn news(&self, _news: &News) {}

    /// Whether to stop now with the best plan so far.
    fn stop(&self) -> bool {
        false
    }
}

/// How long a search goes on at most.
#[derive(Clone, Copy, Default)]
pub(in crate::layout) struct Patience<'w> {
    watch: Option<&'w dyn Watch>,
    until: Option<Instant>,
}

impl<'w> Patience<'w> {
    /// Until told to stop, or until a time.
    pub(in crate::layout) fn new(watch: &'w dyn Watch, until: Option<Instant>) -> Patience<'w> {
        Patience {
            watch: Some(watch),
            until,
        }
    }

    /// Whether to break off: what is not known by now stays unknown.
    pub(in crate::layout) fn is_over(&self) -> bool {
        self.until.is_some_and(|until| Instant::now() >= until)
            || self.watch.is_some_and(|watch| watch.stop())
    }
}

/// Waits in silence and never stops a search.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Watch for Silent {}
