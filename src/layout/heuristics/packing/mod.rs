//! Packs fronts into given boards: a search that asks only whether they all fit.
//!
//! Where a plan costs so many whole boards, one plan is as dear as the next until a board less will
//! do, so the cost says nothing about the way there. This search is given too few boards on purpose
//! and leaves fronts out; what is left out, and what wood is lost to waste where nothing fits, is
//! what it brings down by ruin and recreate, under simulated annealing. (Fewer vehicles are found
//! the same way in Christiaens, Vanden Berghe (2020), Slack induction by string removals,
//! Transportation Sci. 54.)

pub(in crate::layout) mod anneal;
pub(in crate::layout) mod pack;
pub(in crate::layout) mod sheet;
pub(in crate::layout) mod task;
