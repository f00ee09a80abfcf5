//! `grainrow plan`

use std::path::PathBuf;
use std::time::Duration;

use clap::{Args, ValueEnum};
use grainrow::commands::{self, Failure, PlanOrder, Planned};
use grainrow::layout::{Limits, Request};
use grainrow::measure::BoardFeet;
use grainrow::plan::to_json;

use super::exit::Exit;
use super::progress::Progress;
use super::report::{self, Report};
use super::stop::Stop;
use super::summary;

/// Plan which board makes which front, and write the chalk marks
#[derive(Debug, Args)]
pub struct Plan {
    /// The job's folder
    job: PathBuf,
    /// Where to write; JOB/out when not given
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Stop after this long with the best plan so far
    #[arg(long, value_name = "SECONDS", default_value = "60", value_parser = seconds)]
    time: Duration,
    /// Threads to search with, 0 for all; changes no answer
    #[arg(long, value_name = "N", default_value_t = 0)]
    threads: usize,
    /// Seed of the random steps
    #[arg(long, value_name = "N", default_value_t = 0)]
    seed: u64,
    /// What to save: board feet, or money at the boards' prices
    #[arg(long, value_enum, default_value_t = By::Feet)]
    by: By,
    /// A date to print on the packet; none when not given, so that output is repeatable
    #[arg(long, value_name = "DATE")]
    date: Option<String>,
    #[command(flatten)]
    limits: LimitArgs,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum By {
    Feet,
    Money,
}

/// Limits a plan must keep
#[derive(Debug, Args)]
struct LimitArgs {
    /// Allow no break in any run
    #[arg(long, conflicts_with = "most_breaks")]
    unbroken: bool,
    /// Allow at most this many breaks over all runs
    #[arg(long, value_name = "N")]
    most_breaks: Option<usize>,
    /// Allow at most this many board feet
    #[arg(long, value_name = "FEET", value_parser = amount)]
    most_feet: Option<f64>,
    /// Allow at most this many steps between the palest and the darkest board used
    #[arg(long, value_name = "STEPS", value_parser = amount)]
    tone_within: Option<f64>,
}

impl Plan {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        let stop = Stop::listen();
        let progress = Progress::new(report, stop.clone());
        let planned = commands::plan(&self.order(), &progress);
        progress.finish();
        let planned = planned?;
        report.findings(&planned.reading.findings);
        show(report, &planned);
        Ok(exit(&planned, &stop))
    }

    fn order(&self) -> PlanOrder {
        PlanOrder {
            folder: self.job.clone(),
            out: self.out.clone(),
            request: Request {
                time: Some(self.time),
                threads: self.threads,
                seed: self.seed,
                by_money: matches!(self.by, By::Money),
                limits: self.limits.limits(),
            },
            date: self.date.clone(),
        }
    }
}

impl LimitArgs {
    fn limits(&self) -> Limits {
        Limits {
            most_breaks: if self.unbroken {
                Some(0)
            } else {
                self.most_breaks
            },
            most_feet: self.most_feet.map(BoardFeet::new),
            tone_within: self.tone_within,
        }
    }
}

fn show(report: &Report, planned: &Planned) {
    if report.json {
        report::print(&to_json(&planned.reading.job, &planned.plan));
    } else {
        report.text(&summary::of_plan(planned));
    }
}

fn exit(planned: &Planned, stop: &Stop) -> Exit {
    if stop.pressed() {
        Exit::Stopped
    } else if planned.plan.not_made.is_empty() {
        Exit::Done
    } else {
        Exit::NotMade
    }
}

/// Seconds, above zero; a day at most.
fn seconds(text: &str) -> Result<Duration, String> {
    const DAY: f64 = 86_400.0;
    let seconds = amount(text)?;
    if seconds == 0.0 || seconds > DAY {
        return Err("seconds above 0, at most 86400 (a day)".to_owned());
    }
    Ok(Duration::from_secs_f64(seconds))
}

/// A number of zero or more.
fn amount(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if number.is_finite() && number >= 0.0 => Ok(number),
        _ => Err("a number of zero or more".to_owned()),
    }
}
