//! `grainrow tally`

use std::path::PathBuf;

use clap::Args;
use comfy_table::{CellAlignment, Table, presets};
use grainrow::commands::{self, Failure, Litres, Pile, Racked, Tallied, TallyLine, TallyTotal};
use grainrow::measure::{Unit, Volume};

use super::exit::Exit;
use super::report::Report;

/// Tally the pile: board feet by the trade's rules and exactly, or litres
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  grainrow tally my-chest
  grainrow tally my-chest --rack")]
pub struct Tally {
    /// The job's folder
    job: PathBuf,
    /// The pieces left after the job, written as the next job's boards.csv and defects.csv
    #[arg(long)]
    rack: bool,
    /// Where the plan is; JOB/out when not given
    #[arg(long, value_name = "DIR", requires = "rack")]
    out: Option<PathBuf>,
}

impl Tally {
    pub fn run(&self, report: &Report) -> Result<Exit, Failure> {
        if self.rack {
            let racked = commands::rack_of(&self.job, self.out.as_deref())?;
            report.result_in(racked.unit, &racked, &on_rack(&racked))?;
            return Ok(Exit::Done);
        }
        let tallied = commands::tally(&self.job)?;
        let text = match &tallied {
            Pile::Trade(tallied) => shown(tallied),
            Pile::Metric(litres) => in_litres(litres),
        };
        report.result(&tallied, &(text + &pictures(&tallied)))?;
        Ok(Exit::Done)
    }
}

fn shown(tallied: &Tallied) -> String {
    let mut text = format!(
        "{}\n\n{}\n",
        boards(&tallied.boards).trim_fmt(),
        totals(&tallied.totals).trim_fmt()
    );
    if tallied.boards.iter().any(|line| line.half.is_some()) {
        text += "\nAn exact half foot goes up the first time, down the next, and so on in turn.\n";
    }
    text += "Whole feet of length count, the width with its fraction; surface measure is rounded \
             before\nthickness is applied. Stock under 1 in counts as 1 in, scant dry stock as what it \
             was sold as:\n5/4 down to 1 3/16, from 2 in on 1/8 in less.\n";
    text
}

/// Where the boards that were photographed are seen.
fn pictures(pile: &Pile) -> String {
    let pictures: Vec<String> = match pile {
        Pile::Trade(pile) => seen(pile.boards.iter().map(|line| &line.picture)),
        Pile::Metric(pile) => seen(pile.boards.iter().map(|line| &line.picture)),
    };
    match pictures.is_empty() {
        true => String::new(),
        false => format!(
            "\nPhotographs, with the plan's blanks drawn over them where it cuts the board:\n  {}\n",
            pictures.join("\n  ")
        ),
    }
}

fn seen<'p>(pictures: impl Iterator<Item = &'p Option<PathBuf>>) -> Vec<String> {
    let pictures = pictures.flatten();
    pictures
        .map(|picture| picture.display().to_string())
        .collect()
}

fn in_litres(pile: &Litres) -> String {
    let several = |board: &str| {
        pile.boards
            .iter()
            .filter(|line| line.board == board)
            .count()
            > 1
    };
    let mut boards = table(&["board", "length", "width", "thickness", "litres"], 1);
    for line in &pile.boards {
        let name = match several(&line.board) {
            true => format!("{} #{}", line.board, line.copy),
            false => line.board.clone(),
        };
        boards.add_row([
            name,
            line.length.clone(),
            line.width.clone(),
            line.thickness.clone(),
            format!("{:.1}", line.litres),
        ]);
    }
    let mut totals = table(&["thickness", "boards", "m³"], 0);
    let in_m3 = |litres: f64| Volume::new(litres).in_bulk(Unit::Mm);
    for total in &pile.totals {
        let boards = total.boards.to_string();
        totals.add_row([total.thickness.clone(), boards, in_m3(total.litres)]);
    }
    let all = pile.boards.len().to_string();
    totals.add_row(["all".to_owned(), all, in_m3(pile.litres)]);
    format!(
        "{}\n\n{}\n\nLength times width times thickness as measured, in mm; 1000 litres are 1 m³.\n",
        boards.trim_fmt(),
        totals.trim_fmt()
    )
}

fn on_rack(racked: &Racked) -> String {
    let mut table = table(
        &[
            "piece",
            "length",
            "width",
            "thickness",
            racked.unit.volumes(),
            "from",
        ],
        1,
    );
    if let Some(from) = table.column_mut(5) {
        from.set_cell_alignment(CellAlignment::Left);
    }
    for line in &racked.pieces {
        table.add_row([
            line.piece.clone(),
            line.length.clone(),
            line.width.clone(),
            line.thickness.clone(),
            format!("{:.2}", line.feet),
            line.from.clone(),
        ]);
    }
    let files: Vec<String> = racked
        .files
        .iter()
        .map(|f| f.display().to_string())
        .collect();
    format!(
        "{}\n\n{} pieces, {}, when the plan is carried out. For the next job: {}\n",
        table.trim_fmt(),
        racked.pieces.len(),
        Volume::new(racked.board_feet).show(racked.unit),
        files.join(", ")
    )
}

fn boards(lines: &[TallyLine]) -> Table {
    let counted = |line: &&TallyLine| line.copy > 1;
    let several: Vec<&str> = lines
        .iter()
        .filter(counted)
        .map(|line| line.board.as_str())
        .collect();
    let mut table = table(
        &[
            "board",
            "length",
            "width",
            "thickness",
            "surface",
            "board feet",
            "exact",
        ],
        1,
    );
    for line in lines {
        let name = match several.contains(&line.board.as_str()) {
            true => format!("{} #{}", line.board, line.copy),
            false => line.board.clone(),
        };
        let half = line
            .half
            .map(|half| format!(" ({half})"))
            .unwrap_or_default();
        table.add_row([
            name,
            line.length.clone(),
            line.width.clone(),
            format!("{}/4", line.quarters),
            format!("{}{half}", line.surface),
            format!("{}", line.feet),
            format!("{:.2}", line.exact),
        ]);
    }
    table
}

fn totals(totals: &[TallyTotal]) -> Table {
    let mut table = table(
        &["thickness", "boards", "surface", "board feet", "exact"],
        0,
    );
    for total in totals {
        table.add_row([
            format!("{}/4", total.quarters),
            total.boards.to_string(),
            total.surface.to_string(),
            format!("{}", total.feet),
            format!("{:.2}", total.exact),
        ]);
    }
    let all = |feet: fn(&TallyTotal) -> f64| totals.iter().map(feet).sum::<f64>();
    table.add_row([
        "all".to_owned(),
        totals
            .iter()
            .map(|total| total.boards)
            .sum::<usize>()
            .to_string(),
        totals
            .iter()
            .map(|total| total.surface)
            .sum::<u64>()
            .to_string(),
        format!("{}", all(|total| total.feet)),
        format!("{:.2}", all(|total| total.exact)),
    ]);
    table
}

/// A plain table, its columns right aligned but the first `words`.
pub(super) fn table(header: &[&str], words: usize) -> Table {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING)
        .set_header(header.to_vec());
    for column in table.column_iter_mut().skip(words) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    table
}
