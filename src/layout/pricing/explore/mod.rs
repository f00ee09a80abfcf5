//! Walks every pattern of a board whose value may exceed a threshold.
//!
//! First the *lane*: items crosscut one by one from the full width of the board, each a section
//! of its own; nothing is gained by making one section of them, unless an edge beside them is
//! long enough to keep only together. Then sections of several strips, or of one strip of several
//! items with an edge to keep, longest first. In each, the first strip is the longest and sets the
//! section's length; the others follow by falling width. Two sections whose strips turn out as wide
//! are never better than one, but for the wood that a longer section of a crooked board loses.
//! Where an order makes no difference to the value, only one is walked; where it does, with
//! defects, the placer tries them all. A section is left out where a stave could have the next allowed width
//! from what is wasted beside its strips: it is walked with that too, and narrowed where defects ask for it.

pub(in crate::layout) mod edges;
pub(in crate::layout) mod given;
pub(in crate::layout) mod lane;
pub(in crate::layout) mod memory;
pub(in crate::layout) mod must;
pub(in crate::layout) mod narrower;
pub(in crate::layout) mod recall;
pub(in crate::layout) mod record;
pub(in crate::layout) mod strips;
pub(in crate::layout) mod uses;
pub(in crate::layout) mod walk;
pub(in crate::layout) mod wanted;
