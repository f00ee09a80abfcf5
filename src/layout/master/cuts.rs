//! Cuts: what fractions of patterns can do together and whole ones cannot.
//!
//! Take three things of which each is used at most once: fronts, or two fronts and a board.
//! A whole pattern that uses two of them leaves one, which no other pattern can pair up, so at
//! most one pattern of a plan uses two or three. Half patterns can: three halves, each using
//! another pair. These are the subset-row cuts of Jepsen, Petersen, Spoorendonk and Pisinger
//! (2008), Subset-row inequalities applied to the vehicle-routing problem with time windows,
//! Oper. Res. 56, with boards among the rows.

use super::super::problem::Problem;
use super::columns::Column;

/// Three rows, or two rows and a board of which there is one.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(in super::super) struct Cut {
    pub(in super::super) rows: Vec<usize>,
    pub(in super::super) board: Option<usize>,
}

impl Cut {
    /// Whether the column uses two or more.
    pub(in super::super) fn pairs(&self, problem: &Problem, column: &Column) -> bool {
        let on_board = usize::from(self.board == Some(column.pattern.stock));
        let wholes = column.wholes.iter();
        let cut: usize = wholes
            .map(|&item| self.within(&problem.items[item].rows))
            .sum();
        on_board + cut >= 2
    }

    /// Whether a glued stretch of these rows uses two or more.
    pub(super) fn pairs_glued(&self, rows: &std::ops::Range<usize>) -> bool {
        self.within(rows) >= 2
    }

    fn within(&self, rows: &std::ops::Range<usize>) -> usize {
        self.rows.iter().filter(|row| rows.contains(row)).count()
    }
}

/// What puts a run on one side of a tone step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(in super::super) enum Cause {
    /// The front at this row is cut in one piece from any board on that side, or has a stave from the
    /// one board. Sums of staves by their share say so only in part when the staves of a front come
    /// from boards on both sides; a board has one pattern, so this says it in full.
    Front(usize),
    /// Anything of the run is cut from the one board. Fractions of fronts can lie evenly on both
    /// sides; a board used in full for one front or another does not.
    Board,
}

/// A board, or a front cut from it, is on one side of a tone step: so is its run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(in super::super) struct Side {
    pub(in super::super) run: usize,
    pub(in super::super) step: usize,
    pub(in super::super) below: bool,
    pub(in super::super) cause: Cause,
    /// A board of which there is one.
    pub(in super::super) board: usize,
}

impl Side {
    /// Whether the column puts the run there.
    pub(in super::super) fn holds(&self, problem: &Problem, column: &Column) -> bool {
        let from_it = column.pattern.stock == self.board;
        match self.cause {
            Cause::Board => from_it && column.runs.contains(&self.run),
            Cause::Front(row) => {
                let side = (column.tone <= self.step) == self.below;
                let mut wholes = column.wholes.iter();
                let mut staves = column.staves.iter();
                side && (wholes.any(|&item| problem.items[item].rows.contains(&row))
                    || (from_it
                        && staves.any(|&(mode, _)| problem.modes[mode].rows.contains(&row))))
            }
        }
    }
}
