//! Looks for sides of tone steps that a solution of the relaxation says too little of.

use std::collections::{BTreeMap, HashMap};

use super::super::problem::Problem;
use super::columns::Column;
use super::cuts::{Cause, Side};
use super::relax::Solved;

/// Least sum of the shares over what the run's side is said to be.
const ASIDE: f64 = 1e-3;
/// How much more one board must say than the share of the staves.
const SLIGHT: f64 = 1e-4;

/// The sides that runs are put on and are not by fronts glued from boards on both, the worst of each
/// run, step and side; and, if asked for, by single boards.
pub(in super::super) fn aside(
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
        .flat_map(|(column, _)| column.modes())
        .flat_map(|mode| problem.modes[mode].rows.clone())
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
                if over > ASIDE && known.is_none_or(|(worst, _)| over > *worst) {
                    worst.insert((run, step, below), (over, side));
                }
            }
        }
    }
    worst.into_values().map(|(_, side)| side).collect()
}

/// The modes of the front at a row of which one board on this side of a step says more than the share of
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
        for &(mode, _) in &column.staves {
            let of = &problem.modes[mode];
            if of.rows.contains(&row) {
                shares.entry(mode).or_default().0 += share / of.staves as f64;
            }
        }
        let board = column.pattern.stock;
        for mode in column.modes() {
            if problem.modes[mode].rows.contains(&row) && problem.stock[board].count == 1 {
                *shares
                    .entry(mode)
                    .or_default()
                    .1
                    .entry(board)
                    .or_insert(0.0) += share;
            }
        }
    }
    let most = |(mode, (shared, boards)): (usize, (f64, BTreeMap<usize, f64>))| {
        let (board, most) = boards.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
        (most > shared + SLIGHT).then_some((mode, board))
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
        both.filter(move |side| share > said(solved, side) + ASIDE)
    };
    shares.into_iter().flat_map(beside).collect()
}
