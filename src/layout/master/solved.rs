//! A solved relaxation.

use std::collections::HashMap;

use crate::layout::master::program::row::Row;
use crate::layout::pricing::prices::Prices;

/// A solved relaxation.
#[derive(Clone)]
pub(in crate::layout) struct Relaxed {
    /// Cost over the columns known: no bound by itself.
    pub(in crate::layout) cost: f64,
    pub(in crate::layout) prices: Prices,
    /// Price of each front.
    pub(in crate::layout) fronts: Vec<f64>,
    /// See [`Safe`].
    pub(in crate::layout) fixed: f64,
    /// See [`Safe`].
    pub(in crate::layout) wood: f64,
    /// What a pattern pays for each cut of which it takes two rows.
    pub(in crate::layout) paired: Vec<f64>,
    /// What a pattern pays for each side it puts its run on.
    pub(in crate::layout) sided: Vec<f64>,
    /// Whether it keeps every tone row there is.
    pub(in crate::layout) tight: bool,
    /// Share of each front left unmade.
    pub(in crate::layout) unmade: Vec<f64>,
}

/// A solved relaxation with its solution.
pub(in crate::layout) struct Solved {
    pub(in crate::layout) relaxed: Relaxed,
    /// Share of each column.
    pub(in crate::layout) shares: Vec<f64>,
    /// Share of each gluing.
    pub(in crate::layout) glued: Vec<f64>,
    /// `[run][step]`: share of the run at or below the step, and above it.
    pub(in crate::layout) below: Vec<Vec<f64>>,
    pub(in crate::layout) above: Vec<Vec<f64>>,
    /// The duals, as the solver left them.
    pub(in crate::layout) duals: HashMap<Row, f64>,
}
