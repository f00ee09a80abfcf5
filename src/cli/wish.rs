//! `grainrow wish`

use std::path::PathBuf;

use clap::Args;
use grainrow::commands::{self, Asking, Failure, WishOrder, Wished};
use grainrow::layout::{Request, WarmStart};

use super::exit::Exit;
use super::progress::Progress;
use super::report::Report;
use super::search::Search;
use super::stop::Stop;
use super::tally::table;

/// Tell what wishes cost: this front from that board, that board left out
#[derive(Debug, Args)]
#[command(after_help = "\
A wish is FRONT=BOARD, RUN=BOARD, FRONT!=BOARD, BOARD=out or FRONT+FRONT (neighbours of a run stay in one stretch).
Nothing is written unless --keep or --drop is said.

Examples:
  grainrow wish my-chest 3a=C5
  grainrow wish my-chest 'row 3=C5' C9=out --keep
  grainrow wish my-chest --list
  grainrow wish my-chest C9=out --drop")]
pub struct Wish {
    /// The job's folder
    job: PathBuf,
    /// The wishes
    #[arg(
        value_name = "WISH",
        required_unless_present = "list",
        conflicts_with = "list"
    )]
    wishes: Vec<String>,
    /// Write them to wishes.csv: every plan keeps them from then on
    #[arg(long, group = "what")]
    keep: bool,
    /// Tell the wishes in force, and what each costs now
    #[arg(long, group = "what")]
    list: bool,
    /// Take them out of wishes.csv
    #[arg(long, group = "what")]
    drop: bool,
    #[command(flatten)]
    search: Search,
}

impl Wish {
    pub fn run(self, report: &Report) -> Result<Exit, Failure> {
        let stop = Stop::listen();
        let progress = Progress::new(report, stop.clone());
        let wished = commands::wish(&self.order(), &progress);
        progress.finish();
        let wished = wished?;
        report.result_in(wished.unit, &wished, &text(&wished))?;
        let met = wished.wishes.iter().all(|wish| wish.possible) && wished.conflicts.is_empty();
        Ok(match (stop.pressed(), met) {
            (true, _) => Exit::Stopped,
            (_, true) => Exit::Done,
            (_, false) => Exit::NotMade,
        })
    }

    fn order(self) -> WishOrder {
        WishOrder {
            warm: WarmStart::default(),
            folder: self.job,
            wishes: self.wishes,
            what: match (self.keep, self.list, self.drop) {
                (true, ..) => Asking::Keep,
                (_, true, _) => Asking::List,
                (_, _, true) => Asking::Drop,
                _ => Asking::Price,
            },
            request: Request {
                time: Some(self.search.time),
                threads: self.search.threads,
                seed: self.search.seed,
                ..Request::default()
            },
        }
    }
}

fn text(wished: &Wished) -> String {
    if wished.wishes.is_empty() {
        return "No wish is in force.\n".to_owned();
    }
    let mut text = format!("{}\n\n", side_by_side(wished));
    for change in &wished.changes {
        let (from, to) = (&change.from_board, &change.to_board);
        text += &format!("  {}: {from} -> {to}\n", change.front);
    }
    if !wished.changes.is_empty() {
        text.push('\n');
    }
    for wish in &wished.wishes {
        let open = match wish.proved {
            true => "",
            false => " (not proved: give it more with --time)",
        };
        text += &format!("{}{open}\n", wish.words);
        if let Some(nearest) = &wish.nearest {
            text += &format!("  nearest: {nearest}\n");
        }
    }
    if wished.wishes.len() > 1 {
        text += &format!("all together: {}\n", wished.costs.in_words(wished.unit));
    }
    for [one, other] in &wished.conflicts {
        text += &format!("{one} and {other} can't be had together\n");
    }
    if let Some(file) = &wished.written {
        text += &format!("written to {file}\n");
    }
    text
}

/// The figures without the wishes and with them.
fn side_by_side(wished: &Wished) -> String {
    let mut table = table(&["", "without", "with"], 1);
    let used = format!("{} used", wished.unit.volumes());
    for (words, name) in [
        (used.as_str(), "feet_used"),
        ("boards used", "boards_used"),
        ("breaks", "breaks"),
        ("glue lines", "glue_lines"),
        ("tone in runs", "tone_run"),
        ("tone over all", "tone_case"),
        ("cost", "cost"),
    ] {
        let figure = |plan: &serde_json::Value| match (plan.get(name), name) {
            (Some(value), _) => shown(value),
            // A metric job has litres.
            (None, _) => plan.get("litres_used").map(shown).unwrap_or_default(),
        };
        table.add_row([
            words.to_owned(),
            figure(&wished.without),
            figure(&wished.with),
        ]);
    }
    table.trim_fmt()
}

fn shown(value: &serde_json::Value) -> String {
    match (value.as_i64(), value.as_f64()) {
        (Some(count), _) => count.to_string(),
        (_, Some(number)) => format!("{number:.2}"),
        _ => value.to_string(),
    }
}
