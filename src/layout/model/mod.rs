//! A job as the optimiser sees it, and the plans it is made of: no coordinates yet.

pub(in crate::layout) mod completion;
pub(in crate::layout) mod history;
pub(in crate::layout) mod identical;
pub(in crate::layout) mod items;
pub(in crate::layout) mod looks;
pub(in crate::layout) mod merging;
pub(in crate::layout) mod mixed;
pub(in crate::layout) mod moving;
pub(in crate::layout) mod pattern;
pub(in crate::layout) mod prepare;
pub(in crate::layout) mod problem;
pub(in crate::layout) mod request;
pub(in crate::layout) mod saw_rules;
pub(in crate::layout) mod shape;
pub(in crate::layout) mod stave_widths;
pub(in crate::layout) mod steps;
pub(in crate::layout) mod stock;
pub(in crate::layout) mod stretches;
pub(in crate::layout) mod together;
pub(in crate::layout) mod watch;
pub(in crate::layout) mod worths;
pub(in crate::layout) mod zone;
