//! Why a front's chalk can't hold, in a maker's words.

use crate::job::{Choice, Defect, DefectKind, Job};
use crate::plan::{Blank, BoardPlan, Rule, Violation};

/// What speaks against the old place of a front, whose blanks were to lie at `spots`.
pub(super) fn no_longer_holds(
    job: &Job,
    spots: &[(&BoardPlan, &Blank)],
    violation: &Violation,
) -> String {
    let under = || {
        spots.iter().find_map(|(board, blank)| {
            let defects = &job.boards[board.board].defects;
            let defect = defects.iter().find(|defect| meets(job, blank, defect))?;
            Some(told(job, defect))
        })
    };
    match violation.rule {
        Rule::Defects => under().unwrap_or_else(|| violation.text.clone()),
        Rule::Thickness => "it would not come out thick enough there".to_owned(),
        _ => violation.text.clone(),
    }
}

fn meets(job: &Job, blank: &Blank, defect: &Defect) -> bool {
    let clear = job.settings.allowances.clear;
    blank.from < defect.to + clear
        && defect.from - clear < blank.to
        && blank.low < defect.high + clear
        && defect.low - clear < blank.high
}

fn told(job: &Job, defect: &Defect) -> String {
    let ruler = job.settings.ruler();
    let named = DefectKind::WORDS
        .iter()
        .find(|(_, kind)| *kind == defect.kind);
    format!(
        "a {} lies there or too near, {} to {} from the hook end, {} to {} from the near edge",
        named.map_or("defect", |(word, _)| word),
        ruler.show(defect.from),
        ruler.show(defect.to),
        ruler.show(defect.low),
        ruler.show(defect.high),
    )
}
