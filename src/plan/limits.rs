//! Hard limits a maker sets on a plan.

use crate::measure::BoardFeet;

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
