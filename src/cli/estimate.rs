//! `grainrow estimate`

use std::path::PathBuf;
use std::time::Instant;

use clap::Args;
use grainrow::commands::{self, EstimateOrder, Failure};
use grainrow::estimate::{Ask, Watch};
use grainrow::job::MOST_LOOKED_THROUGH;
use indicatif::ProgressBar;

use super::estimate_text;
use super::exit::Exit;
use super::progress;
use super::report::Report;
use super::search::Search;
use super::stop::Stop;

/// Estimate how many board feet to buy, before the boards exist
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  grainrow estimate my-chest --have 60
  grainrow estimate my-chest --have 5/4=20 --breaks 1
  grainrow estimate my-chest --look-through 20,40,80")]
pub struct Estimate {
    /// The job's folder; it needs no boards.csv, and `[yard]` in job.toml says what is on sale
    job: PathBuf,
    /// Where to write; JOB/out when not given
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Breaks to allow in runs, beyond those no board of the yard can spare
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = breaks)]
    breaks: usize,
    /// Tell the chance that this purchase suffices: board feet such as 60, or 5/4=20 for one
    /// thickness; in a metric job cubic metres, 0.15 or 27=0.06
    #[arg(long, value_name = "AMOUNT")]
    have: Vec<String>,
    /// Look through stacks of so many boards of each thickness and take the best: the least to buy then, and the
    /// chance that such a stack suffices. Several sizes with commas between
    #[arg(long, value_name = "BOARDS", value_delimiter = ',', value_parser = looked_through)]
    look_through: Vec<usize>,
    /// Most random piles to try; fewer when the answer is known narrowly enough
    #[arg(long, value_name = "N", default_value_t = 1000, value_parser = trials)]
    trials: usize,
    #[command(flatten)]
    search: Search,
}

impl Estimate {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        let waiting = Waiting {
            bar: progress::bar(report, "trying random piles"),
            stop: Stop::listen(),
            until: Instant::now() + self.search.time,
        };
        let estimated = commands::estimate(&self.order(), &waiting);
        waiting.bar.finish_and_clear();
        let estimated = match estimated {
            Err(Failure::NoTrial) if waiting.stop.pressed() => {
                report.failure(&Failure::NoTrial);
                return Ok(Exit::Stopped);
            }
            other => other?,
        };
        let unit = estimated.estimate.unit;
        report.set_aside(&estimated.out, &estimated.set_aside);
        report.result_in(unit, &estimated.estimate, &estimate_text::of(&estimated))?;
        Ok(match waiting.stop.pressed() {
            true => Exit::Stopped,
            false => Exit::Done,
        })
    }

    fn order(&self) -> EstimateOrder {
        EstimateOrder {
            folder: self.job.clone(),
            out: self.out.clone(),
            ask: Ask {
                breaks: self.breaks,
                trials: self.trials,
                threads: self.search.threads,
                seed: self.search.seed,
                have: Vec::new(),
                look_through: self.look_through.clone(),
            },
            have: self.have.clone(),
        }
    }
}

struct Waiting {
    bar: ProgressBar,
    stop: Stop,
    until: Instant,
}

impl Watch for Waiting {
    fn done(&self, trials: usize, of: usize) {
        self.bar
            .set_message(format!("{trials} of at most {of} random piles tried"));
    }

    fn stop(&self) -> bool {
        self.stop.pressed() || Instant::now() >= self.until
    }
}

fn breaks(text: &str) -> Result<usize, String> {
    within(text, 0, 100)
}

fn trials(text: &str) -> Result<usize, String> {
    within(text, 20, 1_000_000)
}

fn looked_through(text: &str) -> Result<usize, String> {
    within(text, 1, MOST_LOOKED_THROUGH as usize)
}

fn within(text: &str, least: usize, most: usize) -> Result<usize, String> {
    let number = text.parse().ok();
    number
        .filter(|number| (least..=most).contains(number))
        .ok_or_else(|| format!("a whole number from {least} to {most}"))
}
