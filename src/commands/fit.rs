//! `fit`: openings to finished fronts, and the sheet that goes to the bench.

use std::path::{Path, PathBuf};

use super::disk::Real;
use super::shelf::Shelf;
use super::{Failure, Output};
use crate::draw;
use crate::fit::{self, Sawing, Sheet};
use crate::job::{Faults, Front, Job, JobFiles, Needs, Reading, read_plain};
use crate::plan::{self, Plan};

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
    /// The maker's own files that were in the way, by where they are now in the output folder.
    pub set_aside: Vec<String>,
}

/// Fits every front of the job in `folder` and writes the fitting sheet to `out` (`out` in the
/// job's folder when not given). With a plan there, fronts move as the boards are sawn that it
/// cuts them from.
///
/// # Errors
/// [`Failure::Faults`] with every fault, or when the sheet can't be written.
pub fn fit(folder: &Path, out: Option<&Path>) -> Result<FittedFronts, Failure> {
    let out = out.map_or_else(|| folder.join("out"), Path::to_path_buf);
    let shelf = Shelf::open(&Real, &out, folder)?;
    let reading = JobFiles::read(folder)?.parse_for(Needs::Fronts)?;
    let sheet = fit::fit_planned(&reading.job, &of_plan(&reading.job, &out.join("plan.json")))?;
    let outputs = outputs(&sheet);
    shelf.put_beside(&outputs)?;
    Ok(FittedFronts {
        findings: with_idle(&reading.job, reading.findings),
        sheet,
        set_aside: shelf.set_aside(),
        out: out.clone(),
        files: outputs.into_iter().map(|(name, _)| name).collect(),
    })
}

/// What a plan.json says of the fronts' wood; nothing when there is none.
fn of_plan(job: &Job, file: &Path) -> Sawing {
    let bytes = read_plain(file).unwrap_or_default();
    String::from_utf8(bytes).map_or_else(
        |_| Sawing::default(),
        |text| plan::sawing_from_json(job, &text),
    )
}

/// Findings, and the fitting settings that do nothing.
fn with_idle(job: &Job, mut findings: Faults) -> Faults {
    for fault in &fit::idle(job) {
        findings.push(fault.clone());
    }
    findings
}

/// A job read for planning: its fronts that have a measured opening are at their fitted sizes.
#[derive(Clone)]
pub(super) struct FittedJob {
    /// The job, fitted.
    pub reading: Reading,
    /// The sheet that says how; nothing when there is nothing to fit.
    pub sheet: Option<Sheet>,
    /// The fronts as drawn.
    drawn: Job,
}

/// The fronts of a job as drawn, when they can be read: whatever is wrong with its boards.
pub fn outline(folder: &Path) -> Option<Reading> {
    let files = JobFiles::read(folder).ok()?.fronts_alone();
    files.parse_for(Needs::Fronts).ok()
}

/// Reads the job in a folder for planning, or for buying when it need not have boards: its fronts
/// that have a measured opening are at their fitted sizes, and the sheet that says how comes with
/// it.
///
/// # Errors
/// Every fault found in reading or in fitting.
pub(super) fn read_fitted(folder: &Path, needs: Needs) -> Result<(Reading, Option<Sheet>), Faults> {
    let fitted = FittedJob::read(folder, needs, None)?;
    Ok((fitted.reading, fitted.sheet))
}

impl FittedJob {
    /// Reads the job in a folder; with the folder of a plan, sizes are what that plan was made
    /// for.
    ///
    /// # Errors
    /// Every fault found in reading or in fitting.
    pub fn read(folder: &Path, needs: Needs, out: Option<&Path>) -> Result<FittedJob, Faults> {
        let file = out.map(|out| out.join("plan.json"));
        FittedJob::read_for(folder, needs, file.as_deref())
    }

    /// The same with a plan.json, wherever it is.
    ///
    /// # Errors
    /// As [`FittedJob::read`].
    pub fn read_for(folder: &Path, needs: Needs, file: Option<&Path>) -> Result<FittedJob, Faults> {
        let reading = JobFiles::read(folder)?.parse_for(needs)?;
        let drawn = reading.job.clone();
        let findings = with_idle(&drawn, reading.findings);
        let reading = Reading {
            findings,
            ..reading
        };
        let mut fitted = FittedJob {
            reading,
            sheet: None,
            drawn,
        };
        let sawing = file.map(|file| of_plan(&fitted.drawn, file));
        fitted.refit(&sawing.unwrap_or_default())?;
        Ok(fitted)
    }

    /// The same fronts and boards, with what `job` asks of which comes from where.
    pub fn asking(&self, job: Job) -> FittedJob {
        let mut fitted = self.clone();
        for (drawn, front) in fitted.drawn.fronts.iter_mut().zip(&job.fronts) {
            drawn.boards.clone_from(&front.boards);
            drawn.not_boards.clone_from(&front.not_boards);
            drawn.with_next = front.with_next;
        }
        for (drawn, board) in fitted.drawn.boards.iter_mut().zip(&job.boards) {
            drawn.left_out = board.left_out;
        }
        fitted.reading.job = job;
        fitted
    }

    /// This job with its fronts as large as in another of the same fronts.
    pub fn sized_like(self, other: &Job) -> Job {
        let mut job = self.reading.job;
        let sized = job.fronts.iter_mut().zip(&other.fronts);
        sized.for_each(|(front, like)| {
            let (boards, not_boards) = (front.boards.clone(), front.not_boards.clone());
            *front = Front {
                boards,
                not_boards,
                with_next: front.with_next,
                ..like.clone()
            };
        });
        job
    }

    /// Whether fronts are fitted to openings: then their sizes hang on the boards they come from.
    pub fn has_openings(&self) -> bool {
        self.sheet.is_some()
    }

    fn refit(&mut self, sawing: &Sawing) -> Result<(), Faults> {
        let drawn = &self.drawn;
        if drawn.openings.is_empty() && drawn.settings.fitting.arches.is_empty() {
            return Ok(());
        }
        let sheet = fit::fit_planned(drawn, sawing)?;
        self.reading.job = fit::with_fitted_sizes(drawn, &sheet);
        self.sheet = Some(sheet);
        Ok(())
    }

    /// Fits the fronts again to the boards a plan cuts them from. Tells whether a size changed:
    /// then the plan is not one for these fronts.
    ///
    /// # Errors
    /// As [`FittedJob::read`].
    pub fn refit_to_boards(&mut self, plan: &Plan) -> Result<bool, Faults> {
        let before = self.reading.job.clone();
        self.refit(&plan::sawing(&before, plan))?;
        let sizes = |job: &Job| -> Vec<_> {
            let size = |front: &Front| (front.width, front.height);
            job.fronts.iter().map(size).collect()
        };
        Ok(sizes(&self.reading.job) != sizes(&before))
    }

    /// The sheet for a plan that these sizes were planned for: fronts move as their boards do.
    ///
    /// # Errors
    /// As [`FittedJob::read`].
    pub fn sheet_for(&self, plan: &Plan) -> Result<Option<Sheet>, Faults> {
        if self.sheet.is_none() {
            return Ok(None);
        }
        let job = &self.reading.job;
        let sawing = Sawing {
            reckoned: job.fronts.iter().map(|front| front.sawn).collect(),
            ..plan::sawing(job, plan)
        };
        fit::fit_planned(&self.drawn, &sawing).map(Some)
    }
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
