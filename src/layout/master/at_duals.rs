//! Prices at duals that another relaxation left.

use std::collections::HashMap;

use crate::layout::master::prices::safe;
use crate::layout::master::program::model::Extra;
use crate::layout::master::program::row::Row;
use crate::layout::master::solved::Relaxed;
use crate::layout::model::problem::Problem;

impl Relaxed {
    /// Prices from duals of another relaxation, without its cuts: no solution, but as good for a bound as any.
    pub(in crate::layout) fn at(problem: &Problem, duals: &HashMap<Row, f64>) -> Relaxed {
        let safe = safe(problem, Extra::default(), duals);
        Relaxed {
            cost: f64::INFINITY,
            prices: safe.prices,
            fronts: safe.fronts,
            fixed: safe.fixed,
            wood: safe.wood,
            paired: Vec::new(),
            sided: Vec::new(),
            tight: false,
            unmade: Vec::new(),
        }
    }
}
