//! `grainrow photo`

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use grainrow::commands::{self, Accept, Failure, PhotoOrder, Photographed, Picked};

use super::exit::Exit;
use super::progress::bar;
use super::report::Report;

/// Measure the boards by their photographs: tone, grain and what seems to be wrong with them
#[derive(Debug, Args)]
#[command(after_help = HOW)]
pub struct Photo {
    /// The job's folder
    job: PathBuf,
    /// Write proposals into the job, after a look at out/photos/proof.html
    #[arg(long, value_name = "WHAT")]
    accept: Option<What>,
    /// Accept those of this board only (may be given several times)
    #[arg(long, value_name = "BOARD", requires = "accept")]
    board: Vec<String>,
    /// Accept defects of these numbers only
    #[arg(long, value_name = "N", value_delimiter = ',', requires = "board")]
    number: Vec<usize>,
    /// Accept what is at least so sure, 0 to 1
    #[arg(long, value_name = "CONFIDENCE", requires = "accept")]
    above: Option<f64>,
    /// Where results go; JOB/out when not given
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

const HOW: &str = "\
Examples:
  grainrow photo my-chest
  grainrow photo my-chest --accept defects --board C7 --number 1,3

How to photograph a board:
  - All of it in view, its long side along the picture, hook end left, near edge at the bottom
    (in a tall picture: hook end at the top, near edge left).
  - On plain ground of another colour, two inches (50 mm) of it all round; never on wood.
  - From straight above, so that its sides don't show.
  - A strip of plain white paper along each long edge, a finger away from it, as long as the board.
  - One lamp or open shade; no sun patch, no shadow of yours, no flash. Exposure and focus locked
    (press long on the board); no filters.
  - Several boards in one picture where they fit, a hand apart: their tones compare best.
  - For the other side turn the board over about its length: hook end left, near edge at the top; name
    it in photos.csv with side down.
  - A long board in several pictures that overlap by a third; say in photos.csv from where to where
    each shows it (`from`, `to`), and its corners.
  - Save as JPEG, into the job's folder photos/, named after the board: C7.jpg, C7-2.jpg.

Nothing of where, when and with what a picture was taken is written anywhere.";

#[derive(Clone, Copy, Debug, ValueEnum)]
enum What {
    Corners,
    Defects,
    Tones,
}

impl Photo {
    pub fn run(self, report: &Report) -> Result<Exit, Failure> {
        let what = self.accept.map(|what| match what {
            What::Corners => Accept::Corners,
            What::Defects => Accept::Defects,
            What::Tones => Accept::Tones,
        });
        let accept = what.map(|what| Picked {
            what,
            boards: self.board,
            numbers: self.number,
            above: self.above,
        });
        let line = bar(report, "looking at the pictures");
        let news = |done: usize, all: usize| {
            line.set_message(format!("looking at the pictures: {done} of {all}"));
        };
        let order = PhotoOrder {
            folder: self.job,
            out: self.out,
            accept,
        };
        let done = commands::photo(&order, &news);
        line.finish_and_clear();
        let done = done?;
        report.findings(&done.findings);
        report.set_aside(&done.out, &done.set_aside);
        report.result(&done.told, &shown(&done))?;
        Ok(Exit::Done)
    }
}

fn shown(done: &Photographed) -> String {
    let mut table = super::tally::table(&["board", "side", "tone", "within", "L*", "defects"], 2);
    for board in &done.told.boards {
        let name = match board.copy {
            1 => board.board.clone(),
            copy => format!("{} #{copy}", board.board),
        };
        table.add_row([
            name,
            format!("{:?}", board.side).to_lowercase(),
            format!("{:.1}", board.tone),
            format!("{:.1}", board.uncertain),
            format!("{:.0}", board.lab[0]),
            board.defects.len().to_string(),
        ]);
    }
    let mut text = format!("{}\n", table.trim_fmt());
    for group in &done.told.alike {
        text += &format!("not told apart by tone: {}\n", group.join(", "));
    }
    for note in &done.told.notes {
        text += &format!("note: {note}\n");
    }
    if let Some(accepted) = &done.accepted {
        text += &written(accepted);
    }
    if let Some(proof) = done.files.iter().find(|file| file.ends_with("proof.html")) {
        text += &format!("proof sheet to look at: {}\n", proof.display());
    }
    text
}

fn written(accepted: &commands::Accepted) -> String {
    if accepted.what.is_empty() {
        return "nothing to accept: nothing was written into the job\n".to_owned();
    }
    let backup = accepted
        .backup
        .as_ref()
        .map(|name| format!(" (as it was: {name})"));
    let mut text = format!(
        "written to {}{}\n",
        accepted.file,
        backup.unwrap_or_default()
    );
    for line in &accepted.what {
        text += &format!("  {line}\n");
    }
    text
}
