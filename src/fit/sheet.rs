//! A whole job, fitted.

use super::fitted::{Fitted, FittedArch};
use super::one::fit_one;
use super::sawing::Sawing;
use super::under_arch;
use crate::job::{Fault, Faults, Job, Mode, Shape};
use crate::measure::Ruler;

/// Every front of a job, fitted, in the job's order.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The job's title.
    pub title: String,
    /// How lengths are printed: fine enough for shims.
    pub ruler: Ruler,
    /// How fronts sit.
    pub mode: Mode,
    /// The species, by its published name.
    pub species: Option<&'static str>,
    /// The fronts.
    pub fronts: Vec<Fitted>,
}

impl Sheet {
    /// Whether anything comes off any blank.
    pub fn has_wedges(&self) -> bool {
        self.fronts.iter().any(|fitted| !fitted.wedges.is_empty())
    }
}

/// Fits every front of a job to its opening.
///
/// # Errors
/// Every fault found: openings that can't close, gaps wider than an opening, bevels deeper than
/// the stock, arches that span nothing.
pub fn fit(job: &Job) -> Result<Sheet, Faults> {
    fit_planned(job, &Sawing::default())
}

/// The same with what a plan says of the boards: fronts move as their boards are sawn.
///
/// # Errors
/// As [`fit`].
pub fn fit_planned(job: &Job, sawing: &Sawing) -> Result<Sheet, Faults> {
    let mut faults = Faults::new();
    let mut fronts = Vec::with_capacity(job.fronts.len());
    for index in 0..job.fronts.len() {
        let opening = job.openings.iter().find(|opening| opening.front == index);
        match fit_one(job, index, opening, sawing) {
            Ok(fitted) => fronts.push(fitted),
            // One setting that is wrong for many fronts is said once.
            Err(fault)
                if faults
                    .iter()
                    .any(|known: &Fault| known.place == fault.place) => {}
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    under_arch::settle(job, &mut fronts);
    Ok(Sheet {
        title: job.settings.title.clone(),
        ruler: Ruler {
            fraction: 64,
            ..job.settings.ruler()
        },
        mode: job.settings.fitting.gaps.mode,
        species: crate::wood::find(&job.settings.species)
            .ok()
            .map(|species| species.name.as_str()),
        fronts,
    })
}

/// The same job with every front that has an opening at its fitted size.
///
/// Width and height become those of the smallest rectangle with a straight bottom edge that
/// holds the finished front: that is what has to come out of the board. The openings are done
/// with, and left out.
///
/// # Errors
/// As [`fit`].
pub fn fitted_job(job: &Job) -> Result<Job, Faults> {
    Ok(with_fitted_sizes(job, &fit(job)?))
}

/// The same for a job whose sheet is at hand already.
pub fn with_fitted_sizes(job: &Job, sheet: &Sheet) -> Job {
    let mut fitted_job = job.clone();
    for fitted in &sheet.fronts {
        let front = &mut fitted_job.fronts[fitted.front];
        if fitted.opening.is_some() {
            front.width = fitted.width();
            front.height = fitted.height();
            front.glue = job.settings.glue.allows(front.glue_asked, front.across());
            front.sawn = fitted.reckoned.filter(|_| fitted.seasons.is_some());
        }
        if let Some(arch) = &fitted.arch {
            front.shape = shape(fitted, arch);
        }
    }
    // Fitting again would take the fitted sizes for those drawn.
    fitted_job.openings.clear();
    fitted_job
}

/// The outline of an arched front as others draw it.
fn shape(fitted: &Fitted, arch: &FittedArch) -> Shape {
    match arch.shared {
        None => Shape::Arch {
            rise: fitted.height() - arch.left.min(arch.right),
        },
        Some(_) => Shape::Slice {
            left: arch.left,
            right: arch.right,
            radius: arch.radius,
        },
    }
}
