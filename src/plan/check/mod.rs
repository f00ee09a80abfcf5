//! The checker: every rule of cutting and every figure of the totals, from the plan and the job
//! alone.
//!
//! It shares nothing with the optimiser but the job and the plan as data, nor with
//! [`totals`](super::totals): what either gets wrong, it finds. Each rule is one small function
//! in one small file; none stops at its first fault. Lengths are held to their rules to the
//! nanometre: `plan.json` gives them to 1e-9 of the job's unit, enough for every one to come back as
//! it was.
//!
//! | rule | file |
//! |---|---|
//! | boards and fronts are the job's, each used once | `boards`, `fronts` |
//! | 1 sections, strips, blanks | `cuts` |
//! | 2 sizes of blanks, 7 staves of glued fronts | `sizes` |
//! | 3 defects | `defects` |
//! | 4 stretches | `stretches` |
//! | 5 thickness after flattening | `thickness`, `room` |
//! | 6 kept pieces | `kept` |
//! | 8 and the cost: every figure | `figures` |
//! | 10 plain cuts: a [`Rule`] of its own that a caller may treat as a note | `plain` |
//! | what is left of a strip, for 5 | `left` |
//! | after the saw has begun: nothing cut is touched, nothing gone is used | `sawn` |

mod boards;
mod cuts;
mod defects;
mod figures;
mod fronts;
mod kept;
mod left;
mod plain;
mod room;
mod sawn;
mod sizes;
mod stretches;
#[cfg(test)]
mod tests;
mod thickness;
mod view;
mod violation;

use super::{Limits, Plan, Sawn};
use crate::job::Job;
use view::View;

pub use sawn::check_recut;
pub use violation::{Rule, Violation};

/// How far a figure of the totals may be off, as a share of it (or of one, when it is smaller):
/// what rounded figures and sums in another order can differ by.
const FIGURE_TOLERANCE: f64 = 1e-6;

/// Tests `plan` against the rules of cutting, its own totals and `limits`. `by_money` says
/// whether its cost is in money.
///
/// # Errors
/// Everything that is wrong, in the order of the rules.
pub fn check(
    job: &Job,
    plan: &Plan,
    by_money: bool,
    limits: &Limits,
) -> Result<(), Vec<Violation>> {
    let mut found = look(job, plan, by_money, limits, None);
    if names_only_what_is_there(job, plan) {
        found.extend(plain::check(&View::new(job, plan, None), &found));
    }
    if found.is_empty() { Ok(()) } else { Err(found) }
}

/// A plan that names boards or fronts the job does not have can't be looked at further.
fn names_only_what_is_there(job: &Job, plan: &Plan) -> bool {
    let boards = &mut plan.boards.iter();
    boards.all(|planned| planned.board < job.boards.len()) && fronts::known(job, plan).is_empty()
}

/// Everything that is wrong, but for cuts that are not plain. Where something is cut for nothing the rest is looked at only when that
/// is to be expected, after the saw; after an unknown board or front never.
fn look(
    job: &Job,
    plan: &Plan,
    by_money: bool,
    limits: &Limits,
    sawn: Option<&Sawn>,
) -> Vec<Violation> {
    let idle = sawn.is_some();
    let mut found = boards::check(job, plan);
    found.extend(fronts::known(job, plan));
    if found.iter().all(|fault| idle && boards::is_idle(fault)) {
        let view = View::new(job, plan, sawn);
        found.extend(fronts::check(&view));
        found.extend(cuts::check(&view));
        found.extend(sizes::check(&view));
        found.extend(defects::check(&view));
        found.extend(stretches::check(&view));
        found.extend(thickness::check(&view));
        found.extend(room::check(&view));
        found.extend(kept::check(&view));
        found.extend(figures::check(&view, by_money, limits));
    }
    found
}
