//! `grainrow help files` and `grainrow help words`: what README.md has in tables, at hand.

use clap::Args;
use grainrow::commands::Failure;

use super::exit::Exit;
use super::report::Report;

/// The files of a job and their columns.
pub const FILES: &str = include_str!("files.txt");
/// The words of the trade as they are meant here.
pub const WORDS: &str = include_str!("words.txt");

/// A topic takes nothing.
#[derive(Debug, Args)]
pub struct Topic {}

impl Topic {
    /// Shows a topic, as `grainrow help` does.
    pub fn run(text: &str, report: &Report) -> Result<Exit, Failure> {
        report.text(text)?;
        Ok(Exit::Done)
    }
}
