//! What a maker asks of the optimiser.

use std::time::Duration;

use crate::measure::BoardFeet;

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

/// Hard limits on a plan; `None` leaves a figure to the cost.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Most breaks over all runs.
    pub most_breaks: Option<usize>,
    /// Most board feet used.
    pub most_feet: Option<BoardFeet>,
    /// Widest tone spread over the whole piece.
    pub tone_within: Option<f64>,
}
