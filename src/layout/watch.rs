//! What a long search tells whoever waits for it, and how it is asked to stop.

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

/// Waits in silence and never stops a search.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Watch for Silent {}
