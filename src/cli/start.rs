//! `grainrow start`

use std::path::PathBuf;

use clap::Args;
use grainrow::commands::{self, Failure};

use super::exit::Exit;
use super::report::Report;

/// Write a small commented example job that plans at once
#[derive(Debug, Args)]
pub struct Start {
    /// The folder to write it to
    folder: PathBuf,
    /// Overwrite the files of a job that is there already
    #[arg(long)]
    force: bool,
}

impl Start {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        let files = commands::start(&self.folder, self.force)?;
        let folder = self.folder.display();
        let text = format!(
            "Wrote {} to {folder}. Now: grainrow plan {folder}\n",
            files.join(", ")
        );
        report.result(&files, &text);
        Ok(Exit::Done)
    }
}
