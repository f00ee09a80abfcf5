//! `grainrow mark`

use std::path::PathBuf;

use clap::Args;
use grainrow::commands::{self, Failure, Happened, MarkOrder, lengths_of};
use grainrow::job::{Choice, DefectKind, DefectMark, DefectSide, Finished};

use super::exit::Exit;
use super::report::Report;

/// Record what was cut, made or spoiled, where a board was cut through, or what was found on it
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  grainrow mark my-chest 2a 2b --cut
  grainrow mark my-chest 2a --made
  grainrow mark my-chest 2b --spoiled --notes \"tear-out at the left end\"
  grainrow mark my-chest --board B3 --crosscut 80 3/8
  grainrow mark my-chest --board B3 --defect knot 30 34 2 4")]
pub struct Mark {
    /// The job's folder
    job: PathBuf,
    /// The fronts
    #[arg(
        value_name = "FRONT",
        required_unless_present = "board",
        conflicts_with = "board"
    )]
    fronts: Vec<String>,
    /// Their blanks are cut from their boards
    #[arg(long, group = "fate", requires = "fronts")]
    cut: bool,
    /// They are made
    #[arg(long, group = "fate", requires = "fronts")]
    made: bool,
    /// Their blanks are lost: they must be made anew
    #[arg(long, group = "fate", requires = "fronts")]
    spoiled: bool,
    /// The board
    #[arg(long, value_name = "BOARD")]
    board: Option<String>,
    /// Which of several identical boards
    #[arg(long, value_name = "N", requires = "board")]
    copy: Option<u32>,
    /// The board was cut through here, measured from the hook end; the kerf lies beyond the line
    #[arg(long, value_name = "LENGTH", num_args = 1.., requires = "board", group = "fate")]
    crosscut: Vec<String>,
    /// A defect was found: what it is, from and to along the board, low and high across it
    #[arg(long, value_names = ["KIND", "FROM", "TO", "LOW", "HIGH"], num_args = 5.., requires = "board", group = "fate")]
    defect: Vec<String>,
    /// The side the defect shows on: both, up or down
    #[arg(long, value_name = "SIDE", requires = "defect", default_value = "both", value_parser = word::<DefectSide>)]
    side: DefectSide,
    /// Whatever there is to say of it
    #[arg(long, value_name = "TEXT", default_value = "")]
    notes: String,
    /// Where the plan is; JOB/out when not given
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

impl Mark {
    pub fn run(self, report: &Report) -> Result<Exit, Failure> {
        let what = match self.happened() {
            Ok(what) => what,
            Err(why) => {
                report.usage(&why);
                return Ok(Exit::BadInput);
            }
        };
        let marked = commands::mark(&MarkOrder {
            folder: self.job,
            out: self.out,
            what,
        })?;
        let backup = marked
            .backup
            .as_ref()
            .map(|name| format!(" (as it was: {name})"));
        let mut text = format!(
            "{}: written to {}{}\n",
            marked.what,
            marked.file,
            backup.unwrap_or_default()
        );
        for note in &marked.notes {
            text += &format!("  note: {note}\n");
        }
        report.result(&marked, &text)?;
        Ok(Exit::Done)
    }

    fn happened(&self) -> Result<Happened, String> {
        let notes = self.notes.clone();
        if let Some(board) = &self.board {
            return self.on_board(board, notes);
        }
        let now = match (self.cut, self.made, self.spoiled) {
            (true, ..) => Some(Finished::Cut),
            (_, true, _) => Some(Finished::Made),
            (_, _, true) => None,
            _ => return Err("say --cut, --made or --spoiled".to_owned()),
        };
        let names = self.fronts.clone();
        Ok(Happened::Fronts { names, now, notes })
    }

    fn on_board(&self, board: &str, notes: String) -> Result<Happened, String> {
        let board = board.to_owned();
        if let Some((kind, edges)) = self.defect.split_first() {
            let kind = word::<DefectKind>(kind)?;
            let edges = lengths_of(edges);
            let edges: [String; 4] = edges.try_into().map_err(|edges: Vec<String>| {
                let told = "from and to along the board, then low and high across it";
                format!("a defect has four edges, {told}; here are {}", edges.len())
            })?;
            return Ok(Happened::Defect(DefectMark {
                board,
                copy: self.copy,
                kind,
                edges,
                side: self.side,
                notes,
            }));
        }
        match lengths_of(&self.crosscut).as_slice() {
            [at] => Ok(Happened::Crosscut {
                board,
                copy: self.copy,
                at: at.clone(),
                notes,
            }),
            [] => Err("say --crosscut or --defect".to_owned()),
            _ => Err("--crosscut takes one length".to_owned()),
        }
    }
}

/// One of a closed set of words.
fn word<T: Choice>(text: &str) -> Result<T, String> {
    T::from_word(text).ok_or_else(|| format!("one of {}", T::offered()))
}
