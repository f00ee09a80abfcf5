//! The whole search: a first plan, prices, a bound, and proof that nothing cheaper is left.

pub(in crate::layout) mod asked;
pub(in crate::layout) mod close;
pub(in crate::layout) mod fewer;
pub(in crate::layout) mod frontier;
pub(in crate::layout) mod larger;
pub(in crate::layout) mod list;
pub(in crate::layout) mod listing;
pub(in crate::layout) mod plans;
pub(in crate::layout) mod pricer;
pub(in crate::layout) mod root;
pub(in crate::layout) mod search;
pub(in crate::layout) mod tolerance;
pub(in crate::layout) mod tree;
