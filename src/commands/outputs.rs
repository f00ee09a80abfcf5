//! Everything `plan` hands to the shop, as named bytes.

use super::{Failure, Output};
use crate::job::Job;
use crate::packet;
use crate::plan::{self, Plan};

/// The files of a plan, in the order they are told.
pub(super) fn of_plan(job: &Job, plan: &Plan) -> Result<Vec<Output>, Failure> {
    Ok(vec![
        (
            "plan.json".to_owned(),
            plan::to_json(job, plan).into_bytes(),
        ),
        ("marks.csv".to_owned(), packet::marks_csv(job, plan)),
        ("cutlist.csv".to_owned(), packet::cutlist_csv(job, plan)),
    ])
}
