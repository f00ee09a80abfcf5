//! `tally`: the pile's board feet, by the trade's rules and exactly.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::Failure;
use super::litres::{self, Litres};
use super::photo::picture_of;
use crate::job::{self, Job};
use crate::measure::{BoardFeet, Half, Surface, Tally, Unit};

/// The tally of a pile.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Tallied {
    /// Board by board, in file order.
    pub boards: Vec<TallyLine>,
    /// Totals by counted thickness, thinnest first.
    pub totals: Vec<TallyTotal>,
}

/// One board of the tally.
#[derive(Clone, Debug, serde::Serialize)]
pub struct TallyLine {
    /// The board's name.
    pub board: String,
    /// Its copy.
    pub copy: u32,
    /// Length as measured, in the job's unit.
    pub length: String,
    /// Width as measured, in the job's unit.
    pub width: String,
    /// Counted thickness in quarters of an inch.
    pub quarters: i64,
    /// Surface measure in whole square feet.
    pub surface: u64,
    /// Where an exact half went: `up` or `down`.
    pub half: Option<&'static str>,
    /// Board feet as the trade tallies them.
    pub feet: f64,
    /// Exact board feet, at the thickness measured.
    pub exact: f64,
    /// Its photograph, where there is one: with the blanks of the plan drawn over it, or straightened.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub picture: Option<PathBuf>,
}

/// All boards of one thickness.
#[derive(Clone, Copy, Debug, Default, serde::Serialize)]
pub struct TallyTotal {
    /// Counted thickness in quarters of an inch.
    pub quarters: i64,
    /// How many boards.
    pub boards: usize,
    /// Surface measure, summed.
    pub surface: u64,
    /// Board feet: the summed surface measure times the thickness, to the nearest whole foot, an
    /// exact half up for the first thickness it comes to, down for the next, and so on. Rule of
    /// summing before multiplying: glossary of a hardwood firm.
    pub feet: f64,
    /// Exact board feet.
    pub exact: f64,
}

/// A pile tallied in the way of its job's unit.
#[derive(Clone, Debug, serde::Serialize)]
#[serde(untagged)]
pub enum Pile {
    /// In board feet, as the trade tallies them.
    Trade(Tallied),
    /// In litres, as they are.
    Metric(Litres),
}

/// Tallies the boards of the job in `folder`. Halves of board feet go up and down in turn over the
/// whole pile. Photographs are those that `plan` and `photo` wrote last to `out` in the folder.
///
/// # Errors
/// [`Failure::Faults`] with every fault in its files.
pub fn tally(folder: &Path) -> Result<Pile, Failure> {
    let job = job::read(folder)?.job;
    let mut pile = tally_of(&job);
    let seen = |board: &str, copy: u32| picture_of(&job, &folder.join("out"), board, copy);
    match &mut pile {
        Pile::Trade(pile) => {
            let lines = pile.boards.iter_mut();
            lines.for_each(|line| line.picture = seen(&line.board, line.copy));
        }
        Pile::Metric(pile) => {
            let lines = pile.boards.iter_mut();
            lines.for_each(|line| line.picture = seen(&line.board, line.copy));
        }
    }
    Ok(pile)
}

pub(super) fn tally_of(job: &Job) -> Pile {
    match job.settings.unit {
        Unit::Inch => Pile::Trade(of_pile(job)),
        Unit::Mm => Pile::Metric(litres::of_pile(job, &one_by_one(job))),
    }
}

fn of_pile(job: &Job) -> Tallied {
    let ruler = job.settings.ruler();
    let mut tally = Tally::new();
    let mut boards = Vec::new();
    for (board, copy) in one_by_one(job) {
        let Surface { feet, half } = tally.surface(board.length, board.width);
        boards.push(TallyLine {
            board: board.id.clone(),
            copy,
            length: ruler.show(board.length),
            width: ruler.show(board.width),
            quarters: board.thickness.nominal_quarters(),
            surface: feet,
            half: half.map(|half| match half {
                Half::Up => "up",
                Half::Down => "down",
            }),
            feet: BoardFeet::of_surface(feet, board.thickness).value(),
            exact: board.feet().value(),
            picture: None,
        });
    }
    let totals = totals(&boards);
    Tallied { boards, totals }
}

/// Every board in file order, a counted row's copies by number.
fn one_by_one(job: &Job) -> Vec<(&job::Board, u32)> {
    let mut boards: Vec<(usize, u32, &job::Board)> = Vec::new();
    let mut row = 0;
    for (index, board) in job.boards.iter().enumerate() {
        // Kinds of one row stand side by side under one name.
        if index > 0 && job.boards[index - 1].id != board.id {
            row = index;
        }
        boards.extend(board.copies.iter().map(|&copy| (row, copy, board)));
    }
    boards.sort_by_key(|&(row, copy, _)| (row, copy));
    boards
        .into_iter()
        .map(|(_, copy, board)| (board, copy))
        .collect()
}

fn totals(boards: &[TallyLine]) -> Vec<TallyTotal> {
    let mut totals: BTreeMap<i64, TallyTotal> = BTreeMap::new();
    for line in boards {
        let total = totals.entry(line.quarters).or_default();
        total.quarters = line.quarters;
        total.boards += 1;
        total.surface += line.surface;
        total.exact += line.exact;
    }
    let mut turns = Tally::new();
    for total in totals.values_mut() {
        total.feet = turns.whole(total.surface as f64 * total.quarters as f64 / 4.0);
    }
    totals.into_values().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{BOARDS_CSV, DEFECTS_CSV, FRONTS_CSV, JOB_TOML, JobFiles};

    fn pile(rows: &str, defects: &str) -> Tallied {
        let files = JobFiles::new()
            .with(JOB_TOML, "")
            .with(
                BOARDS_CSV,
                format!("board,length,width,thickness,tone,count\n{rows}"),
            )
            .with(
                DEFECTS_CSV,
                format!("board,kind,from,to,low,high,copy\n{defects}"),
            )
            .with(FRONTS_CSV, "front,width,height,thickness\nD1,20,5,3/4\n");
        of_pile(&files.parse().unwrap().job)
    }

    /// Widths, lengths and results of the published and worked examples BM2, BM4 and BMC6 in
    /// `tests/data/board_measure.csv`, each with its source there.
    #[test]
    fn the_trades_feet_stand_beside_the_exact_ones() {
        let tallied = pile(
            "A,12',8,4/4,5\nB,8',6 1/4,8/4,5\nC,14' 6\",11 3/8,6/4,5\n",
            "",
        );
        let feet: Vec<(u64, f64)> = tallied
            .boards
            .iter()
            .map(|line| (line.surface, line.feet))
            .collect();
        assert_eq!(feet, [(8, 8.0), (4, 8.0), (13, 19.5)]);
        assert!((tallied.boards[1].exact - 96.0 * 6.25 * 2.0 / 144.0).abs() < 1e-9);
    }

    #[test]
    fn halves_alternate_over_copies_in_their_order_whatever_their_defects() {
        let tallied = pile("A,9',6,4/4,5,3\nB,9',6,4/4,5\n", "A,knot,1,2,0,1,2\n");
        let halves: Vec<_> = tallied
            .boards
            .iter()
            .map(|line| (line.copy, line.surface, line.half))
            .collect();
        let (up, down) = (Some("up"), Some("down"));
        assert_eq!(halves, [(1, 5, up), (2, 4, down), (3, 5, up), (1, 4, down)]);
    }

    /// Surface measures 2 at 5/4, 2 and 1 at 6/4, 2 at 9/4: 2.5, 4.5 and 4.5. Rule BR5 of `tests/data/facts/board_measure_rules.csv`: an exact half goes up the
    /// first time, down the next, and so on in turn.
    #[test]
    fn halves_of_the_totals_alternate_like_those_of_the_rows() {
        let rows = "A,4',6,5/4,5\nB,4',6,6/4,5\nC,2',6,6/4,5\nD,4',6,9/4,5\n";
        let feet: Vec<f64> = pile(rows, "").totals.iter().map(|t| t.feet).collect();
        assert_eq!(feet, [3.0, 4.0, 5.0]);
    }

    /// 1 3/16 in is the least a dry 5/4 board may measure: `tests/data/facts/surfaced_thickness.csv`.
    /// A board of 8 in by 12 ft has 8 square feet; exactly it holds 8 x 1 3/16.
    #[test]
    fn scant_stock_is_tallied_as_sold_and_its_exact_feet_are_as_measured() {
        let tallied = pile("A,12',8,1 3/16,5\nB,12',8,1 11/64,5\n", "");
        let told: Vec<_> = tallied
            .boards
            .iter()
            .map(|line| (line.quarters, line.feet, line.exact))
            .collect();
        assert_eq!(told, [(5, 10.0, 9.5), (4, 8.0, 8.0 * 1.171875)]);
    }

    #[test]
    fn totals_are_summed_before_the_thickness_is_applied() {
        // Three boards of 5 square feet at 5/4: 15 x 1.25 is 18.75, which is tallied as 19.
        let total = pile("A,10',6,5/4,5,3\nB,8',6,4/4,5\n", "").totals;
        assert_eq!((total[0].quarters, total[0].feet), (4, 4.0));
        assert_eq!(
            (total[1].quarters, total[1].surface, total[1].feet),
            (5, 15, 19.0)
        );
    }
}
