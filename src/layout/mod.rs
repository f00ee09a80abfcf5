//! The optimiser: which board makes which front.

mod request;
mod watch;

use crate::job::Job;
use crate::plan::Plan;

pub use request::{Limits, Request};
pub use watch::{News, Silent, Watch};

/// The best plan found for `job`, with a proven bound on what any plan must cost.
///
/// Fronts that cannot be made are listed in [`Plan::not_made`]; the rest is planned.
pub fn plan(job: &Job, _request: &Request, _watch: &dyn Watch) -> Plan {
    let _ = job;
    todo!("search")
}

/// A good plan within milliseconds, by the construction heuristic alone: no bound.
pub fn quick(job: &Job, _seed: u64) -> Plan {
    let _ = job;
    todo!("construct")
}
