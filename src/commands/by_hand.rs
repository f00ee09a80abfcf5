//! `check --plan`: a plan changed by hand against every rule, and against the best.

use std::path::Path;

use serde::Serialize;

use super::fit::FittedJob;
use super::{Costs, Failure};
use crate::job::{Needs, read_plain};
use crate::layout::{self, Request, Watch};
use crate::measure::Unit;
use crate::plan::{self, PlanFault, Violation};

/// What is to be said of a plan changed by hand.
#[derive(Clone, Debug, Serialize)]
pub struct ByHand {
    /// Whether it keeps every rule but that of plain cuts.
    pub keeps: bool,
    /// Rules it breaks, each with its board, front and figures.
    pub faults: Vec<String>,
    /// Where its cuts are not plain: no fault.
    pub notes: Vec<String>,
    /// Fronts it makes.
    pub made: usize,
    /// Fronts the best plan makes.
    pub best_made: usize,
    /// Its cost, counted anew.
    pub cost: f64,
    /// What no plan costs less than.
    pub bound: f64,
    /// What it takes beyond the best plan.
    pub over_best: Costs,
    /// The same in words.
    pub words: String,
    /// Whether the best plan is proved best.
    pub proved: bool,
    /// The job's unit.
    #[serde(skip)]
    pub unit: Unit,
}

/// Reads a plan.json, counts its figures anew, tells every rule it breaks, and compares it with the best plan.
///
/// # Errors
/// [`Failure::Faults`] when the job has faults, [`Failure::Unreadable`] when the plan is not about it.
pub fn check_plan(
    folder: &Path,
    file: &Path,
    request: &Request,
    watch: &dyn Watch,
) -> Result<ByHand, Failure> {
    let reading = FittedJob::read(folder, Needs::Boards, None)?.reading;
    let job = &reading.job;
    let path = file.to_owned();
    let bytes = read_plain(file).map_err(|why| Failure::Read {
        path: path.clone(),
        why,
    })?;
    let text = String::from_utf8(bytes).map_err(|error| {
        vec![PlanFault::NotText {
            byte: error.utf8_error().valid_up_to(),
        }]
    });
    let read = text.and_then(|text| plan::from_json(job, &text));
    let mut plan = read.map_err(|faults| Failure::Unreadable { path, faults })?;
    let by_money = request.by_money;
    let best = layout::plan(job, request, watch);
    plan.totals.bound = best.totals.bound;
    plan.totals = plan::totals(job, &plan, by_money);
    plan.totals.bound = plan.totals.bound.min(plan.totals.cost);
    plan.totals = plan::totals(job, &plan, by_money);
    let found = plan::check(job, &plan, by_money, &request.limits);
    let (notes, faults): (Vec<Violation>, Vec<Violation>) = found
        .err()
        .unwrap_or_default()
        .into_iter()
        .partition(Violation::is_note);
    let told = |found: Vec<Violation>| found.iter().map(ToString::to_string).collect();
    let over_best = Costs::between(&best.totals, &plan.totals);
    Ok(ByHand {
        keeps: faults.is_empty(),
        faults: told(faults),
        notes: told(notes),
        made: plan.totals.made,
        best_made: best.totals.made,
        cost: plan.totals.cost,
        bound: best.totals.bound,
        words: over_best.in_words(job.settings.unit),
        over_best,
        proved: best.totals.proved,
        unit: job.settings.unit,
    })
}
