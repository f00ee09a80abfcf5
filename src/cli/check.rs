//! `grainrow check`

use std::path::PathBuf;

use clap::Args;
use grainrow::commands::{self, Checked, Failure};

use grainrow::measure::Volume;

use super::exit::Exit;
use super::report::Report;

/// Read a job and print every fault in it, or a summary
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  grainrow check my-chest")]
pub struct Check {
    /// The job's folder
    job: PathBuf,
}

impl Check {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        let checked = commands::check(&self.job)?;
        report.findings(&checked.findings);
        report.result_in(checked.unit, &checked, &summary(&checked))?;
        Ok(if checked.all_can_be_made {
            Exit::Done
        } else {
            Exit::NotMade
        })
    }
}

fn summary(checked: &Checked) -> String {
    let title = match checked.title.as_str() {
        "" => String::new(),
        title => format!("{title}\n"),
    };
    let verdict = match (checked.all_can_be_made, checked.findings.len()) {
        (false, _) => "No faults, but not every front can be made from these boards.",
        (true, 0) => "No faults.",
        (true, _) => "No faults; see the warnings above.",
    };
    format!(
        "{title}{}, {}, {}\n{}, {} finished, {} of more than one front\n{verdict}\n",
        counted(checked.boards, "board"),
        Volume::new(checked.board_feet).show(checked.unit),
        counted(checked.defects, "marked defect"),
        counted(checked.fronts, "front"),
        Volume::new(checked.front_feet).show(checked.unit),
        counted(checked.runs, "run"),
    )
}

fn counted(count: usize, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}
