//! Finds coordinates for a board pattern: the arrangement that keeps most.
//!
//! On a clear board every order is as good as another and the answer is direct ([`clear`]). Where there
//! are defects, strips are stacked in every order at a finite set of places ([`across`]), the stacks
//! lie at a finite set of tight places and slides ([`interval`]), and sections in every order grow or do
//! not ([`along`], [`arrange`]). Each of these says why its set suffices under the rules of cutting. Where a
//! set is too large to be looked at, the answer says so: then what the pattern would cost on a clear board
//! stands as its least cost, and no proof is built on more than that.

pub(in crate::layout) mod across;
pub(in crate::layout) mod alone;
pub(in crate::layout) mod along;
pub(in crate::layout) mod arrange;
pub(in crate::layout) mod arranged;
pub(in crate::layout) mod best;
pub(in crate::layout) mod clear;
pub(in crate::layout) mod fit;
pub(in crate::layout) mod flat;
pub(in crate::layout) mod interval;
pub(in crate::layout) mod options;
pub(in crate::layout) mod pack;
pub(in crate::layout) mod spans;
pub(in crate::layout) mod stretch;
pub(in crate::layout) mod strip;
pub(in crate::layout) mod turn;
