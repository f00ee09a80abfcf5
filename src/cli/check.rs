//! `grainrow check`

use std::path::{Path, PathBuf};

use clap::Args;
use grainrow::commands::{self, ByHand, Checked, Failure};
use grainrow::layout::Request;

use grainrow::measure::Volume;

use super::exit::Exit;
use super::progress::Progress;
use super::report::Report;
use super::search::Search;
use super::stop::Stop;

/// Read a job and print every fault in it, or a summary
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  grainrow check my-chest")]
pub struct Check {
    /// The job's folder
    job: PathBuf,
    /// Check this plan.json, changed by hand, against every rule and the best plan
    #[arg(long, value_name = "FILE")]
    plan: Option<PathBuf>,
    #[command(flatten)]
    search: Search,
}

impl Check {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        if let Some(plan) = &self.plan {
            return self.by_hand(plan, report);
        }
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

impl Check {
    fn by_hand(&self, plan: &Path, report: &Report) -> Result<Exit, Failure> {
        let request = Request {
            time: Some(self.search.time),
            threads: self.search.threads,
            seed: self.search.seed,
            ..Request::default()
        };
        let stop = Stop::listen();
        let progress = Progress::new(report, stop);
        let found = commands::check_plan(&self.job, plan, &request, &progress);
        progress.finish();
        let found = found?;
        report.result_in(found.unit, &found, &told(&found))?;
        Ok(if found.keeps {
            Exit::Done
        } else {
            Exit::NotMade
        })
    }
}

fn told(found: &ByHand) -> String {
    let faults = found.faults.iter().map(|fault| format!("{fault}\n"));
    let notes = found.notes.iter().map(|note| format!("note: {note}\n"));
    let mut text: String = faults.chain(notes).collect();
    if found.keeps {
        text += "It keeps every rule.\n";
    }
    let best = match found.proved {
        true => "the best plan",
        false => "the best plan found, not proved best",
    };
    if found.made != found.best_made {
        text += &format!(
            "It makes {} fronts, {best} {}.\n",
            found.made, found.best_made
        );
    }
    text + &format!("It costs {:.2}; over {best}: {}\n", found.cost, found.words)
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
