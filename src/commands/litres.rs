//! `tally` of a metric pile: what is there, in litres.

use std::path::PathBuf;

use crate::job::Job;
use crate::measure::Length;

/// The tally of a metric pile. Nothing is rounded but what is printed.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Litres {
    /// Board by board, in file order.
    pub boards: Vec<LitresLine>,
    /// Totals by thickness, thinnest first.
    pub totals: Vec<LitresTotal>,
    /// Litres of all boards.
    pub litres: f64,
}

/// One board.
#[derive(Clone, Debug, serde::Serialize)]
pub struct LitresLine {
    /// The board's name.
    pub board: String,
    /// Its copy.
    pub copy: u32,
    /// Length as measured, in millimetres.
    pub length: String,
    /// Width as measured, in millimetres.
    pub width: String,
    /// Thickness as measured, in millimetres.
    pub thickness: String,
    /// Length x width x thickness, in litres.
    pub litres: f64,
    /// Its photograph, where there is one: with the blanks of the plan drawn over it, or straightened.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub picture: Option<PathBuf>,
}

/// All boards of one thickness.
#[derive(Clone, Debug, serde::Serialize)]
pub struct LitresTotal {
    /// The thickness, in millimetres.
    pub thickness: String,
    /// How many boards.
    pub boards: usize,
    /// Their litres.
    pub litres: f64,
}

/// Adds up the pile of a metric job; `boards` are its boards one by one, with their copies.
pub(super) fn of_pile(job: &Job, boards: &[(&crate::job::Board, u32)]) -> Litres {
    let ruler = job.settings.ruler();
    let show = |length: Length| ruler.for_finished(length).show(length);
    let lines: Vec<LitresLine> = boards
        .iter()
        .map(|(board, copy)| LitresLine {
            board: board.id.clone(),
            copy: *copy,
            length: show(board.length),
            width: show(board.width),
            thickness: show(board.thickness),
            litres: job.volume_of(board).value(),
            picture: None,
        })
        .collect();
    let mut thicknesses: Vec<Length> = boards.iter().map(|(board, _)| board.thickness).collect();
    thicknesses.sort_unstable();
    thicknesses.dedup();
    let total = |thickness: &Length| {
        let of_it = boards
            .iter()
            .filter(|(board, _)| board.thickness == *thickness);
        LitresTotal {
            thickness: show(*thickness),
            boards: of_it.clone().count(),
            litres: of_it.map(|(board, _)| job.volume_of(board).value()).sum(),
        }
    };
    Litres {
        totals: thicknesses.iter().map(total).collect(),
        litres: lines.iter().map(|line| line.litres).sum(),
        boards: lines,
    }
}

#[cfg(test)]
mod tests {
    use crate::commands::Pile;
    use crate::commands::tally::tally_of;
    use crate::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, JobFiles};

    /// Worked by hand: 2,4 m x 0,2 m x 27 mm is 12,96 litres; 3 m x 0,152 m x 20 mm is 9,12.
    #[test]
    fn a_metric_pile_is_added_up_as_it_is() {
        let files = JobFiles::new()
            .with(JOB_TOML, "units = \"mm\"\n")
            .with(
                BOARDS_CSV,
                "board;length;width;thickness;tone;count\nA;2400;200;27;5;2\nB;3 m;152;20;5;\n",
            )
            .with(FRONTS_CSV, "front;width;height;thickness\nD1;400;100;19\n");
        let Pile::Metric(litres) = tally_of(&files.parse().unwrap().job) else {
            panic!("a metric job is tallied in litres");
        };
        let each: Vec<f64> = litres.boards.iter().map(|line| line.litres).collect();
        assert_eq!(each, [12.96, 12.96, 9.12]);
        let totals: Vec<(&str, usize)> = litres
            .totals
            .iter()
            .map(|total| (total.thickness.as_str(), total.boards))
            .collect();
        assert_eq!(totals, [("20", 1), ("27", 2)]);
        assert!((litres.litres - 35.04).abs() < 1e-12);
    }
}
