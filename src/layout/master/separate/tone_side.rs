//! Looks for sides of tone steps that a solution of the relaxation says too little of.
//!
//! Cuts: what fractions of patterns can do together and whole ones cannot.
//!
//! Take three things of which each is used at most once: fronts, or two fronts and a board.
//! A whole pattern that uses two of them leaves one, which no other pattern can pair up, so at
//! most one pattern of a plan uses two or three. Half patterns can: three halves, each using
//! another pair. These are the subset-row cuts of Jepsen, Petersen, Spoorendonk and Pisinger
//! (2008), Subset-row inequalities applied to the vehicle-routing problem with time windows,
//! Oper. Res. 56, with boards among the rows.

use std::collections::{BTreeMap, HashMap};

use crate::layout::master::columns::Column;
use crate::layout::master::solved::Solved;
use crate::layout::model::problem::Problem;

/// Least sum of the shares over what the run's side is said to be.
const LEAST_VIOLATION: f64 = 1e-3;
/// How much more one board must say than the share of the staves.
const LEAST_SURPLUS: f64 = 1e-4;

/// The sides that runs are put on and are not by fronts glued from boards on both, the worst of each
/// run, step and side; and, if asked for, by single boards.
pub(in crate::layout) fn violated_sides(
    problem: &Problem,
    columns: &[&Column],
    solved: &Solved,
    boards: bool,
) -> Vec<Side> {
    let used: Vec<(&Column, f64)> = columns
        .iter()
        .zip(&solved.shares)
        .filter(|(_, share)| **share > 1e-6)
        .map(|(column, share)| (*column, *share))
        .collect();
    let mut sides = of_fronts(problem, &used, solved);
    if boards {
        sides.extend(of_boards(problem, &used, solved));
    }
    sides.sort_unstable();
    sides
}

/// What the solution says of a side.
fn said(solved: &Solved, side: &Side) -> f64 {
    let sides = if side.below {
        &solved.below
    } else {
        &solved.above
    };
    sides[side.run][side.step]
}

fn of_fronts(problem: &Problem, used: &[(&Column, f64)], solved: &Solved) -> Vec<Side> {
    let mut worst: HashMap<(usize, usize, bool), (f64, Side)> = HashMap::new();
    let mut rows: Vec<usize> = (used.iter())
        .flat_map(|(column, _)| column.gluings())
        .flat_map(|gluing| problem.gluings[gluing].rows.clone())
        .collect();
    rows.sort_unstable();
    rows.dedup();
    for row in rows {
        let run = problem.items[problem.starts[row].start].run;
        for step in 0..problem.tones.len().saturating_sub(1) {
            for below in [true, false] {
                let from = most_from(problem, used, row, (step, below));
                if from.is_empty() {
                    continue;
                }
                let side = Side {
                    run,
                    step,
                    below,
                    cause: Cause::Front { row, from },
                };
                let held = used.iter();
                let held = held.map(|(column, share)| side.says(problem, column) * share);
                let over = held.sum::<f64>() - said(solved, &side);
                let known = worst.get(&(run, step, below));
                if over > LEAST_VIOLATION && known.is_none_or(|(worst, _)| over > *worst) {
                    worst.insert((run, step, below), (over, side));
                }
            }
        }
    }
    worst.into_values().map(|(_, side)| side).collect()
}

/// The gluings of the front at a row of which one board on this side of a step says more than the share of
/// the staves there does, each with the board that says most.
fn most_from(
    problem: &Problem,
    used: &[(&Column, f64)],
    row: usize,
    (step, below): (usize, bool),
) -> Vec<(usize, usize)> {
    let mut shares: BTreeMap<usize, (f64, BTreeMap<usize, f64>)> = BTreeMap::new();
    for (column, share) in used {
        if (column.tone <= step) != below {
            continue;
        }
        for &(gluing, _) in &column.staves {
            let of = &problem.gluings[gluing];
            if of.rows.contains(&row) {
                shares.entry(gluing).or_default().0 += share / of.staves as f64;
            }
        }
        let board = column.pattern.stock;
        for gluing in column.gluings() {
            if problem.gluings[gluing].rows.contains(&row) && problem.stock[board].count == 1 {
                *shares
                    .entry(gluing)
                    .or_default()
                    .1
                    .entry(board)
                    .or_insert(0.0) += share;
            }
        }
    }
    let most = |(gluing, (shared, boards)): (usize, (f64, BTreeMap<usize, f64>))| {
        let (board, most) = boards.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
        (most > shared + LEAST_SURPLUS).then_some((gluing, board))
    };
    shares.into_iter().filter_map(most).collect()
}

/// Single boards, at the steps next to their tone: from there on they are on one side.
fn of_boards(problem: &Problem, used: &[(&Column, f64)], solved: &Solved) -> Vec<Side> {
    let mut shares: HashMap<(usize, usize), f64> = HashMap::new();
    for (column, share) in used {
        let board = column.pattern.stock;
        for &run in column
            .runs
            .iter()
            .filter(|_| problem.stock[board].count == 1)
        {
            *shares.entry((run, board)).or_insert(0.0) += share;
        }
    }
    let steps = problem.tones.len().saturating_sub(1);
    let beside = |((run, board), share): ((usize, usize), f64)| {
        let tone = problem.stock[board].tone;
        let side = move |step, below| Side {
            run,
            step,
            below,
            cause: Cause::Board(board),
        };
        let below = (tone < steps).then(|| side(tone, true));
        let above = (tone > 0).then(|| side(tone.wrapping_sub(1), false));
        let both = below.into_iter().chain(above);
        both.filter(move |side| share > said(solved, side) + LEAST_VIOLATION)
    };
    shares.into_iter().flat_map(beside).collect()
}

/// What puts a run on one side of a tone step.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(in crate::layout) enum Cause {
    /// The front at this row is cut in one piece from any board on that side, or has a stave from one
    /// there. Sums of staves by their share say so only in part when the staves of a front come from
    /// boards on both sides; the patterns of one board with a stave of a gluing are no more than the gluing
    /// is used, so of the gluings in `from` they say it in full, of one board each.
    Front {
        row: usize,
        /// Gluings, each with a board on that side of which there is one; in order.
        from: Vec<(usize, usize)>,
    },
    /// Anything of the run is cut from this board, of which there is one. Fractions of fronts can lie
    /// evenly on both sides; a board used in full for one front or another does not.
    Board(usize),
}

/// A board, or a front cut from it, is on one side of a tone step: so is its run.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(in crate::layout) struct Side {
    pub(in crate::layout) run: usize,
    pub(in crate::layout) step: usize,
    pub(in crate::layout) below: bool,
    pub(in crate::layout) cause: Cause,
}

impl Side {
    /// How much of the run the column puts there.
    pub(in crate::layout) fn says(&self, problem: &Problem, column: &Column) -> f64 {
        let board = column.pattern.stock;
        match self.cause {
            Cause::Board(one) => f64::from(one == board && column.runs.contains(&self.run)),
            Cause::Front { .. } => {
                let wholes = column.wholes.iter();
                let wholes = wholes.map(|&item| self.of_item(problem, item, column.tone));
                let staves = column.staves.iter();
                let staves = staves.map(|&(gluing, _)| {
                    self.of_item(problem, problem.gluings[gluing].item, column.tone)
                });
                let mut gluings = column.gluings();
                let once = gluings.any(|gluing| self.of_gluing(board, gluing));
                wholes.sum::<f64>() + staves.sum::<f64>() + f64::from(once)
            }
        }
    }

    /// How much of the run an item of a tone puts there by itself.
    pub(in crate::layout) fn of_item(&self, problem: &Problem, item: usize, tone: usize) -> f64 {
        let Cause::Front { row, from } = &self.cause else {
            return 0.0;
        };
        let item = &problem.items[item];
        if !item.rows.contains(row) || (tone <= self.step) != self.below {
            return 0.0;
        }
        match item.gluing {
            None => 1.0,
            Some(gluing) if from.iter().any(|one| one.0 == gluing) => 0.0,
            Some(gluing) => 1.0 / problem.gluings[gluing].staves as f64,
        }
    }

    /// Whether staves of a gluing from a board put the run there, however many.
    fn of_gluing(&self, board: usize, gluing: usize) -> bool {
        match &self.cause {
            Cause::Front { from, .. } => from.contains(&(gluing, board)),
            Cause::Board(_) => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::generate::Size;
    use crate::job::generate::generate;
    use crate::layout::geometry::costs::Costs;
    use crate::layout::heuristics::ruin::Ruin;
    use crate::layout::master::columns::Columns;

    /// What the plan's columns say of a side, and what is so.
    fn said_and_so(problem: &Problem, columns: &[&Column], side: &Side) -> (f64, f64) {
        let says = columns.iter().map(|column| side.says(problem, column));
        let there = |column: &&Column| {
            (column.tone <= side.step) == side.below && column.runs.contains(&side.run)
        };
        (says.sum(), f64::from(columns.iter().any(there)))
    }

    /// The sides that fronts with a stave of a gluing from a board are on, said in full and by share.
    fn sides(problem: &Problem, gluing: usize, board: usize) -> Vec<[Side; 2]> {
        let of = &problem.gluings[gluing];
        let tone = problem.stock[board].tone;
        let steps = 0..problem.tones.len().saturating_sub(1);
        let both = |(row, step): (usize, usize)| {
            [vec![(gluing, board)], Vec::new()].map(|from| Side {
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
                for gluing in column.gluings() {
                    for [full, shared] in sides(&problem, gluing, column.pattern.stock) {
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
