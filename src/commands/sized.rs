//! Plans of fitted fronts: sizes and boards hang on each other.

use std::time::{Duration, Instant};

use super::Failure;
use super::fit::FittedJob;
use crate::job::Job;
use crate::layout::{Request, WarmStart, Watch};
use crate::plan::Plan;

/// Rounds of planning and fitting, at the most.
const ROUNDS: u32 = 4;

/// Plans, and fits the fronts to the boards they come from: wood that moves less needs less of a
/// gap, so that a front may be a little larger. Repeated until sizes and boards go together, or
/// half of the time has gone; what then still moves otherwise is told on the fitting sheet.
///
/// Searches start from what the one before knew, the first from `warm`; but not where fronts are fitted: which of
/// several plans of equal cost the first search finds decides their sizes, so that it starts from nothing, and equal
/// jobs end in equal plans. What the last one knew is handed back.
///
/// # Errors
/// Every fault found in fitting.
pub(super) fn in_rounds<T>(
    fitted: &mut FittedJob,
    request: &Request,
    (watch, warm): (&dyn Watch, &WarmStart),
    search: impl Fn(&Job, &Request, &mut WarmStart) -> T,
    plan_of: impl Fn(&T) -> &Plan,
) -> Result<(T, WarmStart), Failure> {
    let begun = Instant::now();
    let mut warm = match fitted.has_openings() {
        true => WarmStart::default(),
        false => warm.clone(),
    };
    let mut found = search(&fitted.reading.job, request, &mut warm);
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
        found = search(&fitted.reading.job, &request, &mut warm);
    }
    Ok((found, warm))
}

/// What is left of the time, but a little in any case.
pub(super) fn time_left(time: Option<Duration>, begun: Instant) -> Option<Duration> {
    let left = |time: Duration| time.saturating_sub(begun.elapsed()).max(time / 20);
    time.map(left)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Needs;
    use crate::layout::{Silent, plan_from, quick};
    use std::path::Path;

    /// What the first search of a sample job starts from, where an earlier one of the small sample knew something.
    fn first_start(job: &str) -> (String, [String; 2]) {
        let small = Path::new("sample-boards/small");
        let small = FittedJob::read(small, Needs::Boards, None).unwrap();
        let mut warm = WarmStart::default();
        let request = Request::default();
        plan_from(&small.reading.job, &request, &Silent, &mut warm);
        let mut fitted = FittedJob::read(Path::new(job), Needs::Boards, None).unwrap();
        let search =
            |job: &Job, _: &Request, warm: &mut WarmStart| (format!("{warm:?}"), quick(job, 0));
        let found = in_rounds(&mut fitted, &request, (&Silent, &warm), search, |found| {
            &found.1
        });
        let ((start, _), _) = found.unwrap();
        let both = [WarmStart::default(), warm].map(|warm| format!("{warm:?}"));
        (start, both)
    }

    #[test]
    fn plans_of_fronts_fitted_to_boards_hang_on_no_earlier_search() {
        let (start, [nothing, warm]) = first_start("sample-boards/small");
        assert!(nothing != warm && start == warm);
        let (start, [nothing, _]) = first_start("sample-boards/chest");
        assert_eq!(start, nothing);
    }
}
