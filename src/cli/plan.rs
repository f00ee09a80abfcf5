//! `grainrow plan`

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use grainrow::commands::{self, Failure, MostWood, PlanOrder, Planned};
use grainrow::layout::{Limits, Request, WarmStart};
use grainrow::measure::Unit;
use grainrow::plan::to_json;

use super::exit::Exit;
use super::progress::Progress;
use super::report::Report;
use super::search::{Search, amount};
use super::short_list;
use super::stop::Stop;
use super::summary;
use super::ways;

/// Plan which board makes which front, and write the chalk marks
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  grainrow plan my-chest --time 20
  grainrow plan my-chest --unbroken --ways 5
  grainrow plan my-chest --by money --short-list 5
  grainrow plan my-chest --from my-chest/changed.json")]
pub struct Plan {
    /// The job's folder
    job: PathBuf,
    /// Where to write; JOB/out when not given
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    #[command(flatten)]
    search: Search,
    /// What to save: wood (board feet or litres), or money at the boards' prices
    #[arg(long, value_enum, default_value_t = By::Feet)]
    by: By,
    /// A date to print on the packet; none when not given, so that output is repeatable
    #[arg(long, value_name = "DATE")]
    date: Option<String>,
    /// Plan nothing: rank the N boards on offer that alone would save most
    #[arg(long, value_name = "N")]
    short_list: Option<usize>,
    /// Make up to N plans to choose from: wood against breaks against tone
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(2..=20), conflicts_with = "short_list")]
    ways: Option<u8>,
    #[command(flatten)]
    limits: LimitArgs,
    /// Plan all anew, even what is cut already
    #[arg(long)]
    force: bool,
    /// Take this plan.json, changed by hand, as it stands
    #[arg(long, value_name = "FILE", conflicts_with_all = ["ways", "short_list"])]
    from: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum By {
    #[value(aliases = ["litres", "wood"])]
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
    /// Allow at most this many board feet, in a job in inches
    #[arg(long, value_name = "FEET", value_parser = amount, conflicts_with = "by")]
    most_feet: Option<f64>,
    /// Allow at most this many litres, in a job in millimetres
    #[arg(long, value_name = "LITRES", value_parser = amount, conflicts_with_all = ["by", "most_feet"])]
    most_litres: Option<f64>,
    /// Allow at most this many steps between the palest and the darkest board used
    #[arg(long, value_name = "STEPS", value_parser = amount)]
    tone_within: Option<f64>,
}

impl Plan {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        if let Some(count) = self.short_list {
            return short_list::run(&self.job, count, self.search.seed, report);
        }
        let stop = Stop::listen();
        let progress = Progress::new(report, stop.clone());
        let planned = commands::plan(&self.order(), &progress);
        progress.finish();
        let planned = planned?;
        report.findings(&planned.reading.findings);
        report.set_aside(&planned.out, &planned.set_aside);
        show(report, &planned)?;
        Ok(exit(&planned, &stop))
    }

    fn order(&self) -> PlanOrder {
        PlanOrder {
            folder: self.job.clone(),
            out: self.out.clone(),
            force: self.force,
            request: Request {
                time: Some(self.search.time),
                threads: self.search.threads,
                seed: self.search.seed,
                by_money: matches!(self.by, By::Money),
                limits: self.limits.limits(),
            },
            most_wood: self.limits.most_wood(),
            date: self.date.clone(),
            ways: self.ways.map(usize::from),
            from: self.from.clone(),
            warm: WarmStart::default(),
        }
    }
}

impl LimitArgs {
    fn most_wood(&self) -> Option<MostWood> {
        let most = |amount: Option<f64>, unit| amount.map(|amount| MostWood { amount, unit });
        most(self.most_feet, Unit::Inch).or(most(self.most_litres, Unit::Mm))
    }

    fn limits(&self) -> Limits {
        Limits {
            most_breaks: if self.unbroken {
                Some(0)
            } else {
                self.most_breaks
            },
            most_feet: None,
            tone_within: self.tone_within,
        }
    }
}

fn show(report: &Report, planned: &Planned) -> Result<(), Failure> {
    let job = &planned.reading.job;
    for one in grainrow::draw::unwritable(job) {
        let (what, name, number) = (one.what.word(), &one.name, &one.number);
        report.warning(&format!(
            "the sheets have no letters for {what} {name}: on them it is {number}, and a table says so"
        ));
    }
    match (&planned.ways, report.json) {
        (Some(ways), true) => report.json(&ways.to_json(job)),
        (None, true) => report.json(&to_json(job, &planned.plan)),
        (Some(ways), false) => {
            let text = format!("{}\n{}", summary::of_plan(planned), ways::of(planned, ways));
            report.text(&text)
        }
        (None, false) => report.text(&summary::of_plan(planned)),
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
