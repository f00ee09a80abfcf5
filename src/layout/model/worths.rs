//! What counts in the cost beside wood, and what stands in for what no plan may have.

use crate::layout::model::looks::KINDS;

/// Cost of leaving a square foot of front unmade, also in [`Replanned`](crate::layout::Replanned): more than
/// any plan's looks and wood, so that making more always comes first.
pub const UNMADE: f64 = 1e4;
/// Cost of each break, tone step or board foot over a limit.
pub(in crate::layout) const EXCESS: f64 = 1e4;

/// What looks cost, in the unit of the cost.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct Worths {
    pub(in crate::layout) unbroken: f64,
    pub(in crate::layout) tone_run: f64,
    pub(in crate::layout) tone_case: f64,
    pub(in crate::layout) glue_line: f64,
    /// One more log inside a run, one more way of sawing.
    pub(in crate::layout) mixed: [f64; KINDS],
}
