//! `plan --short-list`: which one board on offer would save most.

use std::path::Path;

use super::{Failure, fit};
use crate::estimate::{self, ShortList};
use crate::job::Needs;

/// Ranks the boards on offer in the job in `folder`, the `count` best of them, by what each alone
/// would save; writes nothing.
///
/// # Errors
/// [`Failure::Faults`], or [`Failure::NothingOnOffer`] when no board has a price.
pub fn short_list(folder: &Path, count: usize, seed: u64) -> Result<ShortList, Failure> {
    let (reading, _) = fit::read_fitted(folder, Needs::Boards)?;
    estimate::short_list(&reading.job, count, seed).ok_or(Failure::NothingOnOffer)
}
