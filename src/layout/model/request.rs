//! What a maker asks of the optimiser.

use std::time::Duration;

use crate::plan::Limits;

/// What to plan for, how long, and within which limits.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Request {
    /// Stop after this long with the best plan so far; `None` searches until proved.
    pub time: Option<Duration>,
    /// Threads to search with; 0 takes all there are. Changes no answer.
    pub threads: usize,
    /// Seed of the random steps.
    pub seed: u64,
    /// Count money instead of board feet.
    pub by_money: bool,
    /// What the plan must keep to.
    pub limits: Limits,
}
