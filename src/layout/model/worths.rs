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

/// What a plan counts beside its wood, each worth its own.
#[derive(Clone, Copy, Debug)]
pub(in crate::layout) struct Counted {
    pub(in crate::layout) breaks: f64,
    /// Tone spreads of all runs added up.
    pub(in crate::layout) run_spreads: f64,
    /// Tone spread of the case.
    pub(in crate::layout) case_spread: f64,
    pub(in crate::layout) glue_lines: f64,
    /// Logs beyond the first of each run, ways of sawing likewise.
    pub(in crate::layout) mixed: [f64; KINDS],
}

impl Worths {
    /// What a plan costs that uses this wood. Every worth is named here and in each place whose soundness
    /// hangs on knowing all of them (whoever asks for `Worths { .. }` in full): one more does not compile
    /// before each of them has been thought of.
    pub(in crate::layout) fn cost(&self, wood: f64, counted: &Counted) -> f64 {
        let &Worths {
            unbroken,
            tone_run,
            tone_case,
            glue_line,
            mixed,
        } = self;
        let &Counted {
            breaks,
            run_spreads,
            case_spread,
            glue_lines,
            mixed: more,
        } = counted;
        let kinds = mixed.iter().zip(more);
        let mixed: f64 = kinds.map(|(worth, more)| worth * more).sum();
        wood + unbroken * breaks
            + tone_run * run_spreads
            + tone_case * case_spread
            + mixed
            + glue_line * glue_lines
    }
}
