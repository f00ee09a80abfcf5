//! From a pattern to coordinates on a board, and what that costs.

pub(in crate::layout) mod costs;
pub(in crate::layout) mod place;
pub(in crate::layout) mod placed;
pub(in crate::layout) mod prepare;
