//! How close counts as equal.

/// A plan this close to the bound is the best there is.
pub(in crate::layout) const CLOSED: f64 = 1e-7;
/// Share of the gap the relaxation may be off by where plans are split: prices told exactly tell little more.
pub(in crate::layout) const ENOUGH: f64 = 0.01;
