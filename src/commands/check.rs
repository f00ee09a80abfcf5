//! `check`: reads everything, and says what is there.

use std::path::Path;

use super::Failure;
use crate::job::{Faults, Front, Job, Needs};
use crate::measure::{Unit, Volume};

/// What a job holds.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Checked {
    /// The job's title.
    pub title: String,
    /// The job's unit: volumes are board feet in inches, litres in millimetres.
    pub unit: Unit,
    /// Boards, copies counted.
    pub boards: usize,
    /// Exact volume of all boards.
    pub board_feet: f64,
    /// Defects marked, copies counted.
    pub defects: usize,
    /// Fronts, copies counted.
    pub fronts: usize,
    /// Runs of more than one front.
    pub runs: usize,
    /// Exact volume of the finished fronts; in board feet each at least one inch thick.
    pub front_feet: f64,
    /// Warnings.
    pub findings: Faults,
    /// Whether every front can be made by some board, as far as sizes alone tell.
    pub all_can_be_made: bool,
}

/// Reads the job in `folder` and sums it up.
///
/// # Errors
/// [`Failure::Faults`] with every fault in its files.
pub fn check(folder: &Path) -> Result<Checked, Failure> {
    let (reading, _) = super::fit::read_fitted(folder, Needs::Boards)?;
    let job = &reading.job;
    Ok(Checked {
        title: job.settings.title.clone(),
        unit: job.settings.unit,
        boards: job.boards.iter().map(|board| board.copies.len()).sum(),
        board_feet: sum(job
            .boards
            .iter()
            .map(|board| (job.volume_of(board), board.copies.len()))),
        defects: job
            .boards
            .iter()
            .map(|board| board.defects.len() * board.copies.len())
            .sum(),
        fronts: job.fronts.len(),
        runs: job.runs.iter().filter(|run| run.fronts.len() > 1).count(),
        front_feet: front_feet(job),
        all_can_be_made: reading.all_can_be_made(),
        findings: reading.findings,
    })
}

fn sum(feet: impl Iterator<Item = (Volume, usize)>) -> f64 {
    feet.map(|(feet, copies)| feet.value() * copies as f64)
        .sum()
}

fn front_feet(job: &Job) -> f64 {
    let feet = |front: &Front| job.volume(front.width, front.height, front.thickness);
    sum(job.fronts.iter().map(|front| (feet(front), 1)))
}
