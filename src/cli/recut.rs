//! `grainrow recut`

use std::fmt::Write as _;
use std::path::PathBuf;

use clap::Args;
use grainrow::commands::{self, Failure, RecutOrder, Recutting};
use grainrow::layout::Request;
use grainrow::recut::{Change, Kind};

use super::exit::Exit;
use super::progress::Progress;
use super::report::Report;
use super::search::Search;
use super::stop::Stop;
use super::summary;

/// Plan anew what is left to do, moving as little as can be of what is chalked
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  grainrow recut my-chest
  grainrow recut my-chest --undo")]
pub struct Recut {
    /// The job's folder
    job: PathBuf,
    /// Go back to the plan before the present one
    #[arg(long)]
    undo: bool,
    /// Where the plans are; JOB/out when not given
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    #[command(flatten)]
    search: Search,
}

impl Recut {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        let order = RecutOrder {
            folder: self.job.clone(),
            out: self.out.clone(),
            request: Request {
                time: Some(self.search.time),
                threads: self.search.threads,
                seed: self.search.seed,
                ..Request::default()
            },
        };
        if self.undo {
            let undone = commands::undo(&order)?;
            let out = undone.out.display();
            let text = format!(
                "Plan {} is the present one again, in {out}; the one it replaces is kept in {out}/undone.\n",
                undone.number
            );
            report.result(&undone, &text)?;
            return Ok(Exit::Done);
        }
        let stop = Stop::listen();
        let progress = Progress::new(report, stop.clone());
        let done = commands::recut(&order, &progress);
        progress.finish();
        let done = done?;
        report.findings(&done.reading.findings);
        report.set_aside(&done.out, &done.set_aside);
        if report.json {
            report.json(&json(&done))?;
        } else {
            report.text(&text(&done))?;
        }
        Ok(exit(&done, &stop))
    }
}

fn exit(done: &Recutting, stop: &Stop) -> Exit {
    if stop.pressed() {
        Exit::Stopped
    } else if done.recut.plan.not_made.is_empty() {
        Exit::Done
    } else {
        Exit::NotMade
    }
}

/// `plan.json` with the changes beside it.
fn json(done: &Recutting) -> String {
    let plan: serde_json::Value = serde_json::from_str(&done.json).unwrap_or_default();
    let changes = serde_json::to_value(&done.changes).unwrap_or_default();
    let serde_json::Value::Object(mut whole) = plan else {
        return done.json.clone();
    };
    whole.insert("changes".to_owned(), changes);
    let text = serde_json::to_string_pretty(&whole).unwrap_or_default();
    format!("{text}\n")
}

fn text(done: &Recutting) -> String {
    let mut text = String::new();
    if done.recut.unchanged {
        text += "Nothing to change: the plan stands as it is.\n";
    }
    for (kind, title) in [
        (Kind::Made, "Made"),
        (Kind::Cut, "Cut"),
        (Kind::Stays, "Stay where they are chalked"),
    ] {
        let of_kind = done.changes.iter().filter(|change| change.kind == kind);
        let names: Vec<&str> = of_kind.map(|change| change.front.as_str()).collect();
        if !names.is_empty() {
            let _ = writeln!(text, "{title}: {}", names.join(", "));
        }
    }
    for change in &done.changes {
        text += &told(change);
    }
    text += "\n";
    text += &summary::of_recut(&done.reading.job, &done.recut.plan, &done.out, &done.files);
    text
}

/// What is different about one front; nothing when it is where it was.
fn told(change: &Change) -> String {
    let title = match change.kind {
        Kind::Made | Kind::Cut if change.why.is_some() => {
            let why = change.why.as_deref().unwrap_or_default();
            return format!("\n{}: {why}\n", change.front);
        }
        Kind::Made | Kind::Cut | Kind::Stays => return String::new(),
        Kind::Moved => "moves",
        Kind::New => "new",
        Kind::NotMade => "not made",
    };
    let mut text = format!("\n{}: {title}\n", change.front);
    let mut line = |name: &str, value: &Option<String>| {
        if let Some(value) = value {
            let _ = writeln!(text, "  {name} {value}");
        }
    };
    line("why", &change.why);
    line("was", &change.was);
    line("now", &change.now);
    line("buy", &change.buy);
    for partner in &change.partners {
        let (front, board) = (&partner.front, &partner.board);
        let _ = writeln!(text, "  beside {front} ({board}): {}", partner.compared);
    }
    text
}
