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
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(in super::super) enum Cause {
    /// The front at this row is cut in one piece from any board on that side, or has a stave from one
    /// there. Sums of staves by their share say so only in part when the staves of a front come from
    /// boards on both sides; the patterns of one board with a stave of a mode are no more than the mode
    /// is used, so of the modes in `from` they say it in full, of one board each.
    Front {
        row: usize,
        /// Modes, each with a board on that side of which there is one; in order.
        from: Vec<(usize, usize)>,
    },
    /// Anything of the run is cut from this board, of which there is one. Fractions of fronts can lie
    /// evenly on both sides; a board used in full for one front or another does not.
    Board(usize),
}

/// A board, or a front cut from it, is on one side of a tone step: so is its run.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(in super::super) struct Side {
    pub(in super::super) run: usize,
    pub(in super::super) step: usize,
    pub(in super::super) below: bool,
    pub(in super::super) cause: Cause,
}

impl Side {
    /// How much of the run the column puts there.
    pub(in super::super) fn says(&self, problem: &Problem, column: &Column) -> f64 {
        let board = column.pattern.stock;
        match self.cause {
            Cause::Board(one) => f64::from(one == board && column.runs.contains(&self.run)),
            Cause::Front { .. } => {
                let wholes = column.wholes.iter();
                let wholes = wholes.map(|&item| self.of_item(problem, item, column.tone));
                let staves = column.staves.iter();
                let staves = staves
                    .map(|&(mode, _)| self.of_item(problem, problem.modes[mode].item, column.tone));
                let mut modes = column.modes();
                let once = modes.any(|mode| self.of_mode(board, mode));
                wholes.sum::<f64>() + staves.sum::<f64>() + f64::from(once)
            }
        }
    }

    /// How much of the run an item of a tone puts there by itself.
    pub(super) fn of_item(&self, problem: &Problem, item: usize, tone: usize) -> f64 {
        let Cause::Front { row, from } = &self.cause else {
            return 0.0;
        };
        let item = &problem.items[item];
        if !item.rows.contains(row) || (tone <= self.step) != self.below {
            return 0.0;
        }
        match item.mode {
            None => 1.0,
            Some(mode) if from.iter().any(|one| one.0 == mode) => 0.0,
            Some(mode) => 1.0 / problem.modes[mode].staves as f64,
        }
    }

    /// Whether staves of a mode from a board put the run there, however many.
    fn of_mode(&self, board: usize, mode: usize) -> bool {
        match &self.cause {
            Cause::Front { from, .. } => from.contains(&(mode, board)),
            Cause::Board(_) => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::pattern::Costs;
    use super::super::super::ruin::Ruin;
    use super::super::columns::Columns;
    use super::*;
    use crate::job::generate::{Size, generate};

    /// What the plan's columns say of a side, and what is so.
    fn said_and_so(problem: &Problem, columns: &[&Column], side: &Side) -> (f64, f64) {
        let says = columns.iter().map(|column| side.says(problem, column));
        let there = |column: &&Column| {
            (column.tone <= side.step) == side.below && column.runs.contains(&side.run)
        };
        (says.sum(), f64::from(columns.iter().any(there)))
    }

    /// The sides that fronts with a stave of a mode from a board are on, said in full and by share.
    fn sides(problem: &Problem, mode: usize, board: usize) -> Vec<[Side; 2]> {
        let of = &problem.modes[mode];
        let tone = problem.stock[board].tone;
        let steps = 0..problem.tones.len().saturating_sub(1);
        let both = |(row, step): (usize, usize)| {
            [vec![(mode, board)], Vec::new()].map(|from| Side {
                run: problem.items[of.item].run,
                step,
                below: tone <= step,
                cause: Cause::Front { row, from },
            })
        };
        let rows = of.rows.clone();
        rows.flat_map(|row| steps.clone().map(move |step| (row, step)))
            .map(both)
            .collect()
    }

    #[test]
    fn plans_say_no_more_of_a_side_than_is_so() {
        let size = Size {
            fronts: 20,
            runs: 5,
            boards: 14,
        };
        let (mut more, mut equal) = (0, 0);
        for seed in 1..=20 {
            let job = generate(size, seed);
            let problem = Problem::new(&job, false);
            let costs = Costs::default();
            let mut ruin = Ruin::new(&problem, &costs, seed);
            (0..20).for_each(|_| _ = ruin.round(1.0));
            let mut columns = Columns::default();
            for pattern in &ruin.best.boards {
                columns.add(&problem, pattern);
            }
            let columns = columns.all();
            for column in &columns {
                for mode in column.modes() {
                    for [full, shared] in sides(&problem, mode, column.pattern.stock) {
                        let (said, so) = said_and_so(&problem, &columns, &full);
                        assert!(said <= so + 1e-9, "seed {seed}: {full:?} {said} {so}");
                        let (by_share, _) = said_and_so(&problem, &columns, &shared);
                        assert!(by_share <= said + 1e-9, "seed {seed}: {shared:?}");
                        more += usize::from(by_share < said - 1e-9);
                        equal += usize::from(by_share > said - 1e-9);
                    }
                }
            }
        }
        assert!(more > 0 && equal > 0, "{more} {equal}");
    }
}
