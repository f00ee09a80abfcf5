//! Separation: rows and cuts that a solution of the relaxation breaks, one family a file.

pub(in crate::layout) mod rounding;
pub(in crate::layout) mod rows;
pub(in crate::layout) mod subset_row;
pub(in crate::layout) mod tone_side;
