//! Hard limits a maker sets on a plan.

use super::Totals;
use crate::measure::Volume;

/// Hard limits on a plan; `None` leaves a figure to the cost.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Most breaks over all runs.
    pub most_breaks: Option<usize>,
    /// Most wood used, in board feet or litres as the job counts.
    pub most_feet: Option<Volume>,
    /// Widest tone spread over the whole piece.
    pub tone_within: Option<f64>,
}

/// Board feet (or litres) and tone steps a figure may be off by rounding.
const SLIGHT: f64 = 1e-6;

impl Limits {
    /// Whether a plan with these figures keeps to every limit.
    pub fn kept_by(&self, totals: &Totals) -> bool {
        self.breaks_kept(totals) && self.feet_kept(totals) && self.tone_kept(totals)
    }

    /// Whether it keeps to the limit on breaks.
    pub fn breaks_kept(&self, totals: &Totals) -> bool {
        self.most_breaks.is_none_or(|most| totals.breaks <= most)
    }

    /// Whether it keeps to the limit on wood.
    pub fn feet_kept(&self, totals: &Totals) -> bool {
        let feet = totals.feet_used.value();
        self.most_feet
            .is_none_or(|most| feet <= most.value() + SLIGHT)
    }

    /// Whether it keeps to the limit on tone.
    pub fn tone_kept(&self, totals: &Totals) -> bool {
        self.tone_within
            .is_none_or(|most| totals.tone_case <= most + SLIGHT)
    }
}
