//! Why a front's chalk can't hold, in a maker's words.

use crate::job::{Choice, Defect, Job};
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, Plan, Rule, Sawn, Violation, placed};

/// What speaks against the old place of a front, whose blanks were to lie at `spots`.
pub(super) fn no_longer_holds(
    job: &Job,
    sawn: &Sawn,
    spots: &[(&BoardPlan, &Blank)],
    violation: &Violation,
) -> String {
    let under = || {
        let clear = job.settings.allowances.clear;
        spots.iter().find_map(|(board, blank)| {
            let defects = &job.boards[board.board].defects;
            let defect = defects.iter().find(|defect| meets(blank, defect, clear))?;
            let place = place(job, defect);
            Some(format!(
                "a {} lies there or too near, {place}",
                name(defect)
            ))
        })
    };
    match violation.rule {
        Rule::Defects => under().unwrap_or_else(|| violation.text.clone()),
        Rule::Thickness => {
            // What is left beside a crosscut may be too short to be flattened.
            let safe = job.settings.allowances.shortest_safe;
            cut_through(job, sawn, spots, safe)
                .map(|cut| format!("{cut}: what is left there is too short, or too thin once flat"))
                .unwrap_or_else(|| "it would not come out thick enough there".to_owned())
        }
        Rule::Sawn => cut_through(job, sawn, spots, Length::ZERO)
            .map(|cut| format!("{cut}, through its place"))
            .unwrap_or_else(|| violation.text.clone()),
        _ => violation.text.clone(),
    }
}

/// The crosscut told of a board that runs through one of the spots, or nearer than `near`.
fn cut_through(
    job: &Job,
    sawn: &Sawn,
    spots: &[(&BoardPlan, &Blank)],
    near: Length,
) -> Option<String> {
    let kerf = job.settings.allowances.crosscut_kerf;
    let ruler = job.settings.ruler();
    spots.iter().find_map(|(board, blank)| {
        let cut = sawn.crosscuts.iter().find(|cut| {
            (cut.board, cut.copy) == (board.board, board.copy)
                && cut.at < blank.to + near
                && blank.from - near < cut.at + kerf
        })?;
        let name = &job.boards[cut.board].id;
        Some(format!("{name} was cut through at {}", ruler.show(cut.at)))
    })
}

/// What lies on a blank of a front that is cut already, and shows on its face: marked since, or
/// come out under the saw. Nothing can be moved any more, but its maker should look at it.
pub(super) fn on_cut(job: &Job, plan: &Plan, sawn: &Sawn, front: usize) -> Option<String> {
    if !sawn.is_fixed(front) {
        return None;
    }
    let mut blanks = placed(plan).filter(|(.., blank)| blank.front == front);
    blanks.find_map(|(board, _, _, blank)| {
        let defects = &job.boards[board.board].defects;
        let defect = defects
            .iter()
            .find(|defect| meets(blank, defect, Length::ZERO))?;
        Some(format!(
            "a {} lies on it, {}: mark it spoiled if it can't be used",
            name(defect),
            place(job, defect)
        ))
    })
}

/// Whether a defect shows on a blank's face or goes through, and lies on it or nearer than `clear`.
fn meets(blank: &Blank, defect: &Defect, clear: Length) -> bool {
    blank.face.shows(defect.side)
        && blank.from < defect.to + clear
        && defect.from - clear < blank.to
        && blank.low < defect.high + clear
        && defect.low - clear < blank.high
}

fn name(defect: &Defect) -> &'static str {
    match defect.kind.word() {
        "other" => "defect",
        word => word,
    }
}

fn place(job: &Job, defect: &Defect) -> String {
    let ruler = job.settings.ruler();
    format!(
        "{} to {} from the hook end, {} to {} from the near edge",
        ruler.show(defect.from),
        ruler.show(defect.to),
        ruler.show(defect.low),
        ruler.show(defect.high),
    )
}
