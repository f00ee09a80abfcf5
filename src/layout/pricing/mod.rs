//! The pricing problem: the best patterns of one board at given prices.

pub(in crate::layout) mod area;
pub(in crate::layout) mod board;
pub(in crate::layout) mod explore;
pub(in crate::layout) mod heights;
#[cfg(test)]
mod list_tests;
pub(in crate::layout) mod priced;
pub(in crate::layout) mod prices;
pub(in crate::layout) mod rounding_cut;
pub(in crate::layout) mod tables;
#[cfg(test)]
mod tests;
