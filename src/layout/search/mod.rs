//! The whole search: a first plan, prices, a bound, and proof that nothing cheaper is left.

pub(in crate::layout) mod bin_packing;
pub(in crate::layout) mod bin_packing_bound;
pub(in crate::layout) mod close;
pub(in crate::layout) mod dual_point;
pub(in crate::layout) mod frontier;
pub(in crate::layout) mod list;
pub(in crate::layout) mod listing;
pub(in crate::layout) mod optimiser;
pub(in crate::layout) mod plans;
pub(in crate::layout) mod pricer;
pub(in crate::layout) mod root;
pub(in crate::layout) mod tolerance;
pub(in crate::layout) mod tree;
pub(in crate::layout) mod warm_start;
#[cfg(test)]
mod warm_start_tests;
