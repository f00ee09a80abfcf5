//! Builds the master program. Each constraint stands once, here, for relaxation and whole numbers alike.

pub(in crate::layout) mod build;
pub(in crate::layout) mod limits;
pub(in crate::layout) mod mixed;
pub(in crate::layout) mod model;
pub(in crate::layout) mod narrow_wide;
pub(in crate::layout) mod row;
pub(in crate::layout) mod tones;
