//! From the best plan found to what is handed out.

pub(in crate::layout) mod assemble;
pub(in crate::layout) mod choose;
pub(in crate::layout) mod finish;
pub(in crate::layout) mod reasons;
pub(in crate::layout) mod replan;
pub(in crate::layout) mod threads;
pub(in crate::layout) mod trial;
