//! How much of a board's face is clear in cuttings, as a grader counts it.

use crate::job::{Board, ClearFace};
use crate::measure::Tally;
use crate::plan::Face;

/// An upright rectangle on a face, in inches: along from the hook end, across from the near edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// Start along the board.
    pub from: f64,
    /// End along the board.
    pub to: f64,
    /// Start across the board.
    pub low: f64,
    /// End across the board.
    pub high: f64,
}

impl Patch {
    /// Square inches.
    pub fn area(&self) -> f64 {
        (self.to - self.from) * (self.high - self.low)
    }
}

/// Clear cuttings of one face, the largest first, each as large as can be beside those before it:
/// no more than the grade allows, none smaller.
///
/// A grader may find better ones, never worse: what is counted here is there.
pub fn cuttings(board: &Board, face: Face, rules: &ClearFace) -> Vec<Patch> {
    let (long, wide) = (board.length.inches(), board.width.inches());
    let mut taken: Vec<Patch> = board
        .defects
        .iter()
        .filter(|defect| face.shows(defect.side))
        .map(|defect| Patch {
            from: defect.from.inches(),
            to: defect.to.inches(),
            low: defect.low.inches(),
            high: defect.high.inches(),
        })
        .collect();
    let most = (rules.most_cuttings)(surface(board));
    let mut found = Vec::new();
    while (found.len() as u64) < most {
        let Some(cutting) = largest(long, wide, &taken, rules) else {
            break;
        };
        taken.push(cutting);
        found.push(cutting);
    }
    found
}

/// Cutting units (a cutting's inches of width times its feet of length) in a list of cuttings.
pub fn units(cuttings: &[Patch]) -> f64 {
    cuttings.iter().map(Patch::area).sum::<f64>() / 12.0
}

/// Surface measure of one board by itself, whole square feet.
pub fn surface(board: &Board) -> u64 {
    Tally::new().surface(board.length, board.width).feet
}

/// The largest free rectangle that is a cutting under the rules.
fn largest(long: f64, wide: f64, taken: &[Patch], rules: &ClearFace) -> Option<Patch> {
    let shortest = rules
        .least_cuttings
        .iter()
        .map(|s| s.1)
        .fold(f64::INFINITY, f64::min);
    let mut best: Option<Patch> = None;
    let starts = std::iter::once(0.0).chain(taken.iter().map(|t| t.to));
    for from in starts {
        let ends = std::iter::once(long).chain(taken.iter().map(|t| t.from));
        for to in ends {
            if to - from < shortest {
                continue;
            }
            let most = (to - from) * wide;
            if best.is_some_and(|b| b.area() >= most) {
                continue;
            }
            for (low, high) in gaps(wide, taken, from, to) {
                let patch = Patch {
                    from,
                    to,
                    low,
                    high,
                };
                let allowed =
                    |&(width, length): &(f64, f64)| high - low >= width && to - from >= length;
                if rules.least_cuttings.iter().any(allowed)
                    && best.is_none_or(|b| patch.area() > b.area())
                {
                    best = Some(patch);
                }
            }
        }
    }
    best
}

/// What is free across the board all the way from `from` to `to`.
fn gaps(wide: f64, taken: &[Patch], from: f64, to: f64) -> Vec<(f64, f64)> {
    let mut spans: Vec<(f64, f64)> = taken
        .iter()
        .filter(|t| t.from < to && from < t.to)
        .map(|t| (t.low, t.high))
        .collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut gaps = Vec::with_capacity(spans.len() + 1);
    let mut at = 0.0;
    for (low, high) in spans {
        if low > at {
            gaps.push((at, low));
        }
        at = f64::max(at, high);
    }
    if wide > at {
        gaps.push((at, wide));
    }
    gaps
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{Defect, DefectKind, DefectSide, Grade};
    use crate::measure::Length;

    fn board(long: f64, wide: f64, defects: &[(f64, f64, f64, f64)]) -> Board {
        let inches = Length::from_inches;
        Board {
            length: inches(long),
            width: inches(wide),
            thickness: inches(1.0),
            defects: defects
                .iter()
                .map(|d| Defect {
                    kind: DefectKind::Knot,
                    from: inches(d.0),
                    to: inches(d.1),
                    low: inches(d.2),
                    high: inches(d.3),
                    side: DefectSide::Both,
                    notes: String::new(),
                })
                .collect(),
            ..Board::default()
        }
    }

    fn fas() -> ClearFace {
        Grade::Fas.faces().unwrap()[0]
    }

    #[test]
    fn a_clear_board_is_one_cutting() {
        let board = board(96.0, 6.0, &[]);
        let cuttings = cuttings(&board, Face::Up, &fas());
        assert_eq!(cuttings.len(), 1);
        // 6 in by 8 ft: 48 cutting units, surface measure 4, 12 units a foot.
        assert_eq!((units(&cuttings), surface(&board)), (48.0, 4));
    }

    #[test]
    fn a_knot_in_the_middle_leaves_what_lies_before_and_behind_it() {
        // 8 in by 12 ft, surface measure 8: two cuttings allowed, at least 4 in by 5 ft.
        let board = board(144.0, 8.0, &[(70.0, 72.0, 3.0, 5.0)]);
        let cuttings = cuttings(&board, Face::Up, &fas());
        // By hand: 8 in x 72 in behind the knot, 8 in x 70 in before it.
        assert!((units(&cuttings) - 8.0 * (72.0 + 70.0) / 12.0).abs() < 1e-9);
        assert_eq!(cuttings.len(), 2);
    }

    #[test]
    fn no_cutting_is_smaller_than_the_grade_allows() {
        // Knots every 3 ft, right across: nothing is 5 ft long, but 2 ft is enough for common.
        let knots: Vec<_> = (1..4)
            .map(|i| (36.0 * f64::from(i), 36.0 * f64::from(i) + 1.0, 0.0, 8.0))
            .collect();
        let board = board(144.0, 8.0, &knots);
        assert!(cuttings(&board, Face::Up, &fas()).is_empty());
        let common = Grade::Common1.faces().unwrap()[1];
        let found = cuttings(&board, Face::Up, &common);
        // Surface measure 8: (8 + 1) / 3 = 3 cuttings.
        assert_eq!(found.len(), 3);
        assert_eq!(units(&found), 8.0 * (36.0 + 35.0 + 35.0) / 12.0);
    }
}
