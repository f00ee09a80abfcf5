//! How close counts as equal.

/// A plan this close to the bound is the best there is.
pub(in crate::layout) const CLOSED: f64 = 1e-7;
