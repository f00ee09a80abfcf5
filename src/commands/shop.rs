//! Where the work in the shop stands: the plan that is chalked, and what is done of it.

use std::path::Path;

use super::Failure;
use super::fit::FittedJob;
use super::recut::present;
use crate::job::{Needs, Reading};
use crate::plan::{Plan, Sawn};
use crate::recut::begun_on;

/// The plan the shop works by.
#[derive(Clone, Debug)]
pub struct Shop {
    /// The job, its fronts as large as that plan has them.
    pub reading: Reading,
    /// The plan.
    pub plan: Plan,
    /// What the saw has done.
    pub sawn: Sawn,
    /// The text of its `plan.json`.
    pub json: String,
}

/// Reads the plan in the output folder `out`, and what `done.csv` says of it.
///
/// # Errors
/// [`Failure::NoPlan`] when none is written yet; [`Failure::Faults`], [`Failure::Unreadable`] and
/// [`Failure::Begun`] when job, plan and marks do not go together.
pub fn shop(folder: &Path, out: &Path) -> Result<Shop, Failure> {
    let reading = FittedJob::read(folder, Needs::Boards, Some(out))?.reading;
    let (json, earlier) = present(&reading.job, out)?;
    let sawn = begun_on(&reading.job, &earlier, &reading.done).map_err(Failure::Begun)?;
    Ok(Shop {
        reading,
        plan: earlier.plan,
        sawn,
        json,
    })
}
