//! `fit`: openings to finished fronts, and the sheet that goes to the bench.

use std::path::{Path, PathBuf};

use super::{Failure, Output, write_all};
use crate::draw;
use crate::fit::{self, Sheet};
use crate::job::{Faults, JobFiles, Needs, Reading};

/// A job's fronts, fitted, and what was written.
#[derive(Clone, Debug)]
pub struct FittedFronts {
    /// The fronts.
    pub sheet: Sheet,
    /// Warnings found while reading.
    pub findings: Faults,
    /// The output folder.
    pub out: PathBuf,
    /// The files in it.
    pub files: Vec<String>,
}

/// Fits every front of the job in `folder` and writes the fitting sheet to `out` (`out` in the
/// job's folder when not given).
///
/// # Errors
/// [`Failure::Faults`] with every fault, or when the sheet can't be written.
pub fn fit(folder: &Path, out: Option<&Path>) -> Result<FittedFronts, Failure> {
    let reading = JobFiles::read(folder)?.parse_for(Needs::Fronts)?;
    let sheet = fit::fit(&reading.job)?;
    let outputs = outputs(&sheet);
    let out = out.map_or_else(|| folder.join("out"), Path::to_path_buf);
    write_all(&out, &outputs)?;
    Ok(FittedFronts {
        sheet,
        findings: reading.findings,
        out,
        files: outputs.into_iter().map(|(name, _)| name).collect(),
    })
}

/// Reads the job in a folder for planning, or for buying when it need not have boards: its fronts that have a measured opening are at their
/// fitted sizes, and the sheet that says how comes with it.
///
/// # Errors
/// Every fault found in reading or in fitting.
pub(super) fn read_fitted(folder: &Path, needs: Needs) -> Result<(Reading, Option<Sheet>), Faults> {
    let reading = JobFiles::read(folder)?.parse_for(needs)?;
    if reading.job.openings.is_empty() && reading.job.settings.fitting.arches.is_empty() {
        return Ok((reading, None));
    }
    let sheet = fit::fit(&reading.job)?;
    let job = fit::with_fitted_sizes(&reading.job, &sheet);
    Ok((Reading { job, ..reading }, Some(sheet)))
}

/// The sheet's files.
pub(super) fn outputs(sheet: &Sheet) -> Vec<Output> {
    let json = serde_json::to_string_pretty(&fit::to_json(sheet)).unwrap_or_default();
    let mut outputs = vec![
        ("fit.txt".to_owned(), fit::text(sheet).into_bytes()),
        ("fit.csv".to_owned(), fit::csv(sheet)),
        ("fit.json".to_owned(), (json + "\n").into_bytes()),
    ];
    for (index, page) in draw::fitting(sheet).iter().enumerate() {
        let name = format!("fitting-{}", index + 1);
        outputs.push((format!("{name}.svg"), page.svg().into_bytes()));
        outputs.push((format!("{name}.png"), page.png()));
    }
    outputs
}
