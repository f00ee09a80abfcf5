//! What came of looking for an arrangement.

use crate::layout::geometry::placed::Placed;

/// The best arrangement found of a pattern, and what none costs less than: infinite where there is none.
pub(in crate::layout) struct Arranged {
    pub(in crate::layout) placed: Option<Placed>,
    pub(in crate::layout) least: f64,
}

impl Arranged {
    pub(in crate::layout) fn none(least: f64) -> Arranged {
        Arranged {
            placed: None,
            least,
        }
    }

    /// One that is known to be best.
    pub(in crate::layout) fn best(placed: Option<Placed>) -> Arranged {
        Arranged {
            least: placed.as_ref().map_or(f64::INFINITY, |placed| placed.cost),
            placed,
        }
    }
}
