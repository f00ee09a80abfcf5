//! Tables that bound what any completion of a half-made pattern is worth.

pub(in crate::layout) mod board;
pub(in crate::layout) mod growth;
pub(in crate::layout) mod moves;
