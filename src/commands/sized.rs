//! Plans of fitted fronts: sizes and boards hang on each other.

use std::time::{Duration, Instant};

use super::Failure;
use super::fit::FittedJob;
use crate::job::Job;
use crate::layout::{Request, Watch};
use crate::plan::Plan;

/// Rounds of planning and fitting, at the most.
const ROUNDS: u32 = 4;

/// Plans, and fits the fronts to the boards they come from: wood that moves less needs less of a
/// gap, so that a front may be a little larger. Repeated until sizes and boards go together, or
/// half of the time has gone; what then still moves otherwise is told on the fitting sheet.
///
/// # Errors
/// Every fault found in fitting.
pub(super) fn in_rounds<T>(
    fitted: &mut FittedJob,
    request: &Request,
    watch: &dyn Watch,
    mut search: impl FnMut(&Job, &Request) -> T,
    plan_of: impl Fn(&T) -> &Plan,
) -> Result<T, Failure> {
    let begun = Instant::now();
    let mut found = search(&fitted.reading.job, request);
    for _ in 1..ROUNDS {
        let spent = |time: Duration| begun.elapsed() > time / 2;
        if request.time.is_some_and(spent) || watch.stop() {
            break;
        }
        if !fitted.refit_to_boards(plan_of(&found))? {
            break;
        }
        let request = Request {
            time: time_left(request.time, begun),
            ..request.clone()
        };
        found = search(&fitted.reading.job, &request);
    }
    Ok(found)
}

/// What is left of the time, but a little in any case.
pub(super) fn time_left(time: Option<Duration>, begun: Instant) -> Option<Duration> {
    let left = |time: Duration| time.saturating_sub(begun.elapsed()).max(time / 20);
    time.map(left)
}
