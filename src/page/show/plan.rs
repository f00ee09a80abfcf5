//! A plan as the page shows it.

use serde_json::{Value, json};

use super::{board, case, figures};
use crate::job::Job;
use crate::page::plans::Best;
use crate::plan::Plan;

/// The fronts of a job that can't be planned yet.
pub fn outline(job: &Job) -> Value {
    let none = Plan::default();
    json!({ "fronts": case::fronts(job, &none, None), "breaks": [] })
}

/// The plan, the case it makes and the boards it cuts.
pub fn plan(best: &Best) -> Value {
    let (job, plan) = (best.job(), best.the_plan());
    let unit = job.settings.unit;
    let wishes: Vec<&str> = best
        .reading()
        .wishes
        .iter()
        .map(|w| w.text.as_str())
        .collect();
    json!({
        "version": best.version,
        "stage": best.stage,
        "title": job.settings.title,
        "unit": unit,
        "fraction": job.settings.ruler().fraction,
        "figures": figures::figures(&plan.totals, unit),
        "proof": figures::proof(&plan.totals),
        "fronts": case::fronts(job, plan, best.sawn()),
        "breaks": case::breaks(job, plan),
        "pile": board::pile(job),
        "boards": board::cut_boards(job, plan),
        "wishes": wishes,
        "photographed": !best.reading().photos.is_empty(),
        "begun": best.sawn().is_some(),
        "changes": best.changes(),
    })
}
