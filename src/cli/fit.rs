//! `grainrow fit`

use std::path::PathBuf;

use clap::Args;
use grainrow::commands::{self, Failure};
use grainrow::fit;

use super::exit::Exit;
use super::report::Report;

/// Fit fronts to their measured openings, and write the sheet for the bench
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  grainrow fit my-chest")]
pub struct Fit {
    /// The job's folder
    job: PathBuf,
    /// Where to write; JOB/out when not given
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

impl Fit {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        let fitted = commands::fit(&self.job, self.out.as_deref())?;
        report.findings(&fitted.findings);
        report.set_aside(&fitted.out, &fitted.set_aside);
        let text = format!(
            "{}\nWrote {} to {}\n",
            fit::text(&fitted.sheet),
            fitted.files.join(", "),
            fitted.out.display()
        );
        report.result(&fit::to_json(&fitted.sheet), &text)?;
        Ok(Exit::Done)
    }
}
