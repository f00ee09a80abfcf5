//! The command line: what can be asked, and how the answer is shown. It holds no geometry.

mod check;
mod estimate;
mod estimate_text;
mod exit;
mod fit;
mod mark;
mod photo;
mod plan;
mod progress;
mod recut;
mod report;
mod search;
mod short_list;
mod start;
mod stop;
mod summary;
mod tally;
mod ways;
mod woods;

use std::process::ExitCode;

use clap::{Parser, Subcommand};
use report::Report;

/// Decides which rough board makes which drawer or door front, and writes the chalk marks.
#[derive(Debug, Parser)]
#[command(version, about, arg_required_else_help = true, after_help = AFTER_HELP)]
struct Cli {
    #[command(subcommand)]
    command: Command,
    /// Print the result as JSON
    #[arg(long, global = true)]
    json: bool,
    /// Print nothing but errors
    #[arg(long, short, global = true)]
    quiet: bool,
}

const AFTER_HELP: &str = "\
Exit codes: 0 done; 2 bad input or usage; 3 some front can't be made (the rest is planned, and \
what to buy is said); 4 could not write; 130 stopped by Ctrl-C with the best plan written.";

#[derive(Debug, Subcommand)]
enum Command {
    Start(start::Start),
    Check(check::Check),
    Tally(tally::Tally),
    Plan(plan::Plan),
    Fit(fit::Fit),
    Woods(woods::Woods),
    Estimate(estimate::Estimate),
    Mark(mark::Mark),
    Photo(photo::Photo),
    Recut(recut::Recut),
}

/// Runs the command line and says how it went.
pub fn run() -> ExitCode {
    let cli = Cli::parse();
    let report = Report {
        json: cli.json,
        quiet: cli.quiet,
    };
    let done = match cli.command {
        Command::Start(start) => start.run(&report),
        Command::Check(check) => check.run(&report),
        Command::Tally(tally) => tally.run(&report),
        Command::Plan(plan) => plan.run(&report),
        Command::Fit(fit) => fit.run(&report),
        Command::Woods(woods) => woods.run(&report),
        Command::Estimate(estimate) => estimate.run(&report),
        Command::Mark(mark) => mark.run(&report),
        Command::Photo(photo) => photo.run(&report),
        Command::Recut(recut) => recut.run(&report),
    };
    match done {
        Ok(exit) => exit.into(),
        Err(failure) => report.failure(&failure).into(),
    }
}
