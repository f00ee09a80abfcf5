//! `grainrow start`

use std::path::PathBuf;

use clap::Args;
use grainrow::commands::{self, Failure};
use grainrow::job::Choice;
use grainrow::measure::Unit;

use super::exit::Exit;
use super::report::Report;

/// Write a small commented example job that plans at once
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  grainrow start my-chest
  grainrow start my-chest --units mm")]
pub struct Start {
    /// The folder to write it to
    folder: PathBuf,
    /// The unit to write it in: inch or mm
    #[arg(long, value_name = "UNIT", default_value = "inch", value_parser = unit)]
    units: Unit,
    /// Overwrite the files of a job that is there already
    #[arg(long)]
    force: bool,
}

impl Start {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        let files = commands::start(&self.folder, self.units, self.force)?;
        let folder = self.folder.display();
        let text = format!(
            "Wrote {} to {folder}. Now: grainrow plan {folder}\n",
            files.join(", ")
        );
        report.result(&files, &text)?;
        Ok(Exit::Done)
    }
}

fn unit(text: &str) -> Result<Unit, String> {
    Unit::from_word(text).ok_or_else(|| format!("one of {}", Unit::offered()))
}
