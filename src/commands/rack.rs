//! `tally --rack`: what goes back on the rack, and the files the next job begins with.

use std::path::{Path, PathBuf};

use super::disk::Real;
use super::recut::present;
use super::shelf::Shelf;
use super::{Failure, Output};
use crate::measure::Unit;
use crate::recut::{begun_on, rack, rack_csv, rack_sizes};

/// The pieces left after a job.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Racked {
    /// What volumes are counted in.
    #[serde(skip)]
    pub unit: Unit,
    /// Piece by piece, in the order of the boards.
    pub pieces: Vec<RackLine>,
    /// Volume of all of them.
    pub board_feet: f64,
    /// The files written for the next job.
    pub files: Vec<PathBuf>,
}

/// One piece.
#[derive(Clone, Debug, serde::Serialize)]
pub struct RackLine {
    /// Its name.
    pub piece: String,
    /// Its length, in the job's unit, as the files have it.
    pub length: String,
    /// Its width, in the job's unit.
    pub width: String,
    /// Its thickness, in the job's unit or in quarters.
    pub thickness: String,
    /// Its volume.
    pub feet: f64,
    /// Where it comes from.
    pub from: String,
}

/// What is left when the present plan is carried out. Writes `rack/boards.csv` and
/// `rack/defects.csv` into the output folder.
///
/// # Errors
/// Any [`Failure`].
pub fn rack_of(folder: &Path, out: Option<&Path>) -> Result<Racked, Failure> {
    let out = out.map_or_else(|| folder.join("out"), Path::to_owned);
    let shelf = Shelf::open(&Real, &out, folder)?;
    let needs = crate::job::Needs::Boards;
    let reading = super::fit::FittedJob::read(folder, needs, Some(&out))?.reading;
    let job = &reading.job;
    let (_, earlier) = present(job, &out)?;
    let sawn = begun_on(job, &earlier, &reading.done).map_err(Failure::Begun)?;
    let pieces = rack(job, &earlier.plan, &sawn);
    let outputs: Vec<Output> = rack_csv(job, &pieces)
        .into_iter()
        .map(|(name, bytes)| (format!("rack/{name}"), bytes))
        .collect();
    shelf.put_beside(&outputs)?;
    let lines: Vec<RackLine> = pieces
        .iter()
        .map(|piece| {
            let [length, width, thickness] = rack_sizes(job, piece);
            RackLine {
                piece: piece.name.clone(),
                length,
                width,
                thickness,
                feet: job.volume_of(&piece.board).value(),
                from: piece.from.clone(),
            }
        })
        .collect();
    Ok(Racked {
        unit: job.settings.unit,
        board_feet: lines.iter().map(|line| line.feet).sum(),
        pieces: lines,
        files: outputs.iter().map(|(name, _)| out.join(name)).collect(),
    })
}
