//! A plan of work in progress against the rules.

use crate::job::Job;
use crate::layout::Limits;
use crate::plan::{Plan, Sawn, Violation, check_recut};

use super::stays::Fronts;

/// What the saw has done, and with it the chalk that stays.
pub(super) fn with_chalk(sawn: &Sawn, stays: impl IntoIterator<Item = usize>) -> Sawn {
    let mut sawn = sawn.clone();
    sawn.stays = stays.into_iter().collect();
    sawn.stays.sort_unstable();
    sawn
}

/// What keeps a plan from being cut, `stays` being chalk that was there before it.
pub(super) fn wrong(
    job: &Job,
    plan: &Plan,
    (sawn, stays): (&Sawn, &Fronts),
    money: bool,
    limits: &Limits,
) -> Vec<Violation> {
    let sawn = with_chalk(sawn, stays.iter().copied());
    let found = check_recut(job, plan, &sawn, money, limits).err();
    let mut found = found.unwrap_or_default();
    found.retain(|violation| !violation.is_note());
    found
}

/// What is not plain in a plan, none of its chalk being from before.
pub(super) fn not_plain(job: &Job, plan: &Plan, sawn: &Sawn, money: bool) -> Vec<Violation> {
    let sawn = with_chalk(sawn, []);
    let found = check_recut(job, plan, &sawn, money, &Limits::default()).err();
    let mut found = found.unwrap_or_default();
    found.retain(Violation::is_note);
    found
}
