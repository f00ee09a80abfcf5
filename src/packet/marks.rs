//! `marks.csv`: the chalk marks of every board.

use crate::draw::Progress;
use crate::job::Job;
use crate::measure::{Length, Ruler};
use crate::plan::{BoardPlan, Plan};
use crate::text::csv_bytes;
use crate::work::Mark;

/// The marks of one board, none of them done; see [`crate::work::marks`].
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn marks(job: &Job, planned: &BoardPlan) -> Vec<Mark> {
    crate::work::marks(job, planned, None)
}

/// `marks.csv`: every mark of every board, in the order chalked, distances as the job's ruler
/// shows them.
///
/// A line across has its distance under `from_hook_end`, a line along under `from_near_edge`;
/// `line` says from where to where it runs, `done` is `yes` where the saw has followed it already.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn marks_csv(job: &Job, plan: &Plan, progress: Option<&Progress>) -> Vec<u8> {
    let ruler = job.settings.ruler();
    let sawn = progress.map(|progress| progress.sawn);
    let mut rows = Vec::new();
    for planned in &plan.boards {
        for (index, mark) in crate::work::marks(job, planned, sawn).iter().enumerate() {
            let [from_hook, from_near, line] = distances(&ruler, mark);
            rows.push(vec![
                job.boards[planned.board].id.clone(),
                planned.copy.to_string(),
                (index + 1).to_string(),
                mark.kind.name().to_owned(),
                from_hook,
                from_near,
                line,
                ruler.unit.to_string(),
                mark.what.clone(),
                if mark.done { "yes" } else { "" }.to_owned(),
            ]);
        }
    }
    let header = [
        "board",
        "copy",
        "mark",
        "cut",
        "from_hook_end",
        "from_near_edge",
        "line",
        "unit",
        "what",
        "done",
    ];
    csv_bytes(&header, rows)
}

fn distances(ruler: &Ruler, mark: &Mark) -> [String; 3] {
    let span = |(from, to): (Length, Length)| format!("{} to {}", ruler.show(from), ruler.show(to));
    if mark.is_across() {
        let line = format!("across, {}", span(mark.across));
        [ruler.show(mark.along.0), String::new(), line]
    } else {
        let line = format!("along, {}", span(mark.along));
        [String::new(), ruler.show(mark.across.0), line]
    }
}
