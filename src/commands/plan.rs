//! `plan`: from a job's folder to chalk marks.

use std::path::PathBuf;

use super::disk::Real;
use super::{Failure, estimate, fit, mark, outputs, shelf};
use crate::job::{Needs, Reading};
use crate::layout::{self, Request, Watch};
use crate::packet::{self, Extras};
use crate::plan::{self, Limits, Plan};

/// What to plan, and where to write it.
#[derive(Clone, Debug, Default)]
pub struct PlanOrder {
    /// The job's folder.
    pub folder: PathBuf,
    /// The output folder; `out` in the job's folder when not given.
    pub out: Option<PathBuf>,
    /// How to plan.
    pub request: Request,
    /// The date to print on the packet; none when not given, so that output is repeatable.
    pub date: Option<String>,
    /// Plan all anew even when some is cut already.
    pub force: bool,
}

/// A plan that passed the checker and is written.
#[derive(Clone, Debug)]
pub struct Planned {
    /// The job and its findings.
    pub reading: Reading,
    /// The plan.
    pub plan: Plan,
    /// The output folder.
    pub out: PathBuf,
    /// The files in it.
    pub files: Vec<String>,
}

/// Plans the job, checks the plan by every rule, and writes it. A plan that is there is shelved.
///
/// # Errors
/// Any [`Failure`]; nothing is written unless all of it can be.
pub fn plan(order: &PlanOrder, watch: &dyn Watch) -> Result<Planned, Failure> {
    let (reading, fitting) = fit::read_fitted(&order.folder, Needs::Boards)?;
    let request = &order.request;
    let priced = reading.job.boards.iter().any(|board| board.price.is_some());
    if request.by_money && !priced {
        return Err(Failure::NoPrices);
    }
    if mark::is_begun(&reading) && !order.force {
        return Err(Failure::AlreadyBegun);
    }
    let plan = layout::plan(&reading.job, request, watch);
    if let Some(nearest) = over_limits(&plan, &request.limits) {
        return Err(Failure::Limits(nearest));
    }
    plan::check(&reading.job, &plan, request.by_money, &request.limits)
        .map_err(Failure::Rejected)?;
    let out = order
        .out
        .clone()
        .unwrap_or_else(|| order.folder.join("out"));
    let extras = Extras {
        date: order.date.clone(),
        fitting: fitting.as_ref().map(packet::fitting),
        estimate: estimate::part_of(&reading.job, &out),
    };
    let mut outputs = outputs::of_plan(&reading.job, &plan, &extras);
    outputs.extend(fitting.iter().flat_map(fit::outputs));
    let files = outputs.iter().map(|(name, _)| name.clone()).collect();
    shelf::replace(&Real, &out, &outputs)?;
    Ok(Planned {
        reading,
        plan,
        out,
        files,
    })
}

/// What of a plan is over the limits, or nothing when it keeps to all of them.
fn over_limits(plan: &Plan, limits: &Limits) -> Option<String> {
    let totals = &plan.totals;
    let feet = totals.feet_used.value();
    let over = [
        (
            limits.most_breaks.is_some_and(|most| totals.breaks > most),
            format!("{} breaks", totals.breaks),
        ),
        (
            limits
                .most_feet
                .is_some_and(|most| feet > most.value() + 1e-6),
            format!("{feet:.2} board feet used"),
        ),
        (
            limits
                .tone_within
                .is_some_and(|most| totals.tone_case > most + 1e-9),
            format!("a tone spread of {:.1}", totals.tone_case),
        ),
    ];
    let over: Vec<String> = over
        .into_iter()
        .filter_map(|(over, figure)| over.then_some(figure))
        .collect();
    (!over.is_empty()).then(|| over.join(", "))
}
