//! Plans without a proof: construction, ruin and recreate, rounding, packing.

pub(in crate::layout) mod insert;
pub(in crate::layout) mod packing;
pub(in crate::layout) mod rounding;
pub(in crate::layout) mod ruin;
pub(in crate::layout) mod spots;
pub(in crate::layout) mod state;
pub(in crate::layout) mod trim;
