//! The best plan to be made of a list of patterns: cut and branch.
//!
//! The relaxation over the list gives a bound, and for every pattern what a plan with it costs at
//! least; those that cannot be in a better plan are struck off. Subset-row and rounding cuts
//! (`master::separate`) raise the bound. What is left is split (`branch`) by questions a maker would ask: does
//! this front come from this board, is this stretch cut in one, is it glued. Where plans are few, before there
//! are cuts or after, all that may be better than the best known are walked instead (`enumerate`).

pub(in crate::layout) mod branch;
pub(in crate::layout) mod cost;
pub(in crate::layout) mod enumerate;
#[cfg(test)]
mod enumerate_tests;
pub(in crate::layout) mod list_search;
pub(in crate::layout) mod sets;
pub(in crate::layout) mod settle;
pub(in crate::layout) mod split;
pub(in crate::layout) mod undominated;
pub(in crate::layout) mod values;
