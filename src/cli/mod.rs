//! The command line: what can be asked, and how the answer is shown. It holds no geometry.

mod check;
mod estimate;
mod estimate_text;
mod exit;
mod fit;
mod lines;
mod mark;
mod page;
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
mod topics;
mod ways;
mod wish;
mod woods;

use std::process::ExitCode;
use std::sync::LazyLock;

use clap::{CommandFactory, Parser, Subcommand};
use grainrow::text::shown;
use report::Report;

/// Decides which rough board makes which drawer or door front, and writes the chalk marks.
#[derive(Debug, Parser)]
#[command(name = "grainrow", version = VERSION.as_str(), about, arg_required_else_help = true, after_help = AFTER_HELP)]
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

/// The version and what it was built from; `build.rs` says that.
static VERSION: LazyLock<String> = LazyLock::new(|| {
    let from = option_env!("GRAINROW_BUILT_FROM").unwrap_or("source");
    format!("{} ({from})", grainrow::VERSION)
});

const AFTER_HELP: &str = "\
Example: grainrow start my-chest, then grainrow plan my-chest.
Topics: grainrow help files, the files of a job; grainrow help words, the trade's words.

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
    Page(page::Page),
    Photo(photo::Photo),
    Recut(recut::Recut),
    Wish(wish::Wish),
    /// The files of a job and their columns
    #[command(hide = true, override_help = topics::FILES)]
    Files(topics::Topic),
    /// The words of the trade as they are meant here
    #[command(hide = true, override_help = topics::WORDS)]
    Words(topics::Topic),
}

/// The whole command line, for its man pages and completions.
#[allow(dead_code)]
pub fn command() -> clap::Command {
    Cli::command()
}

/// Runs the command line and says how it went.
pub fn run() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => return usage(&error),
    };
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
        Command::Page(page) => page.run(&report),
        Command::Photo(photo) => photo.run(&report),
        Command::Recut(recut) => recut.run(&report),
        Command::Wish(wish) => wish.run(&report),
        Command::Files(_) => topics::Topic::run(topics::FILES, &report),
        Command::Words(_) => topics::Topic::run(topics::WORDS, &report),
    };
    match done {
        Ok(exit) => exit.into(),
        Err(failure) => report.failure(&failure).into(),
    }
}

/// Help, or what is wrong with the arguments: none of what was typed acts on the terminal.
fn usage(error: &clap::Error) -> ExitCode {
    let text = error.render().to_string();
    let safe = shown(&text);
    if safe == text {
        error.exit();
    }
    report::complain(&safe);
    // As clap itself ends.
    ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2))
}
