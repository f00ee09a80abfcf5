//! A plan changed by hand: held against every rule and the best plan (`check --plan`), and taken as it stands
//! (`plan --from`).

use std::path::Path;

use serde::Serialize;

use super::fit::FittedJob;
use super::{Costs, Failure};
use crate::job::{Job, Needs, read_plain};
use crate::layout::{self, Request, Watch};
use crate::measure::Unit;
use crate::plan::{self, Plan, PlanFault, Violation};

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
    let reading = FittedJob::read_for(folder, Needs::Boards, Some(file))?.reading;
    let plan = read(&reading.job, file)?;
    let changed = Changed::compared(&reading.job, plan, request, watch);
    Ok(changed.told(reading.job.settings.unit))
}

/// A plan.json as it stands.
///
/// # Errors
/// [`Failure::Read`]; [`Failure::Unreadable`] when it is not about this job.
pub(super) fn read(job: &Job, file: &Path) -> Result<Plan, Failure> {
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
    read.map_err(|faults| Failure::Unreadable { path, faults })
}

/// A plan changed by hand, beside the best.
pub(super) struct Changed {
    /// It, its figures counted anew, with the best plan's bound.
    pub plan: Plan,
    /// The rules it breaks.
    faults: Vec<Violation>,
    /// Where its cuts are not plain.
    notes: Vec<Violation>,
    best: Plan,
}

impl Changed {
    /// Counts a plan's figures anew and makes the best plan beside it.
    pub fn compared(job: &Job, mut plan: Plan, request: &Request, watch: &dyn Watch) -> Changed {
        let by_money = request.by_money;
        let best = layout::plan(job, request, watch);
        plan.totals = plan::totals(job, &plan, by_money);
        plan.totals.bound = best.totals.bound.min(plan.totals.cost);
        plan.totals.seconds = best.totals.seconds;
        plan.totals = plan::totals(job, &plan, by_money);
        // One that makes less is not the best, however little it costs.
        if plan::missing_area(job, &plan) > plan::missing_area(job, &best) + 1e-9 {
            (plan.totals.gap, plan.totals.proved) = (1.0, false);
        }
        let found = plan::check(job, &plan, by_money, &request.limits);
        let found = found.err().unwrap_or_default().into_iter();
        let (notes, faults) = found.partition(Violation::is_note);
        Changed {
            plan,
            faults,
            notes,
            best,
        }
    }

    /// The plan, when it keeps every rule but that of plain cuts.
    ///
    /// # Errors
    /// [`Failure::BreaksRules`] with each rule it breaks.
    pub fn taken(self) -> Result<Plan, Failure> {
        match self.faults.is_empty() {
            true => Ok(self.plan),
            false => Err(Failure::BreaksRules(self.faults)),
        }
    }

    /// What every sheet says of it.
    pub fn line(&self, unit: Unit) -> String {
        let best = match self.best.totals.proved {
            true => "the best plan",
            false => "the best plan found",
        };
        let over = match self.over_best().in_words(unit).as_str() {
            "nothing" => format!("as good as {best}"),
            words => format!("over {best}: {words}"),
        };
        match self.plan.totals.made == self.best.totals.made {
            true => format!("changed by hand, {over}"),
            false => format!(
                "changed by hand, makes {} fronts where {best} makes {}",
                self.plan.totals.made, self.best.totals.made
            ),
        }
    }

    fn over_best(&self) -> Costs {
        Costs::between(&self.best.totals, &self.plan.totals)
    }

    fn told(&self, unit: Unit) -> ByHand {
        let told = |found: &[Violation]| found.iter().map(ToString::to_string).collect();
        let over_best = self.over_best();
        ByHand {
            keeps: self.faults.is_empty(),
            faults: told(&self.faults),
            notes: told(&self.notes),
            made: self.plan.totals.made,
            best_made: self.best.totals.made,
            cost: self.plan.totals.cost,
            bound: self.best.totals.bound,
            words: over_best.in_words(unit),
            over_best,
            proved: self.best.totals.proved,
            unit,
        }
    }
}
