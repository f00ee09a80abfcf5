//! Looks for sides of tone steps that a solution of the relaxation says too little of.

use std::collections::HashMap;

use super::super::problem::Problem;
use super::columns::Column;
use super::cuts::{Cause, Side};
use super::relax::Solved;

/// Least sum of the shares over what the run's side is said to be.
const ASIDE: f64 = 1e-3;

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
    for (row, board) in glued_on(problem, used) {
        let run = problem.items[problem.starts[row].start].run;
        let tone = problem.stock[board].tone;
        for step in 0..problem.tones.len().saturating_sub(1) {
            let side = Side {
                run,
                step,
                below: tone <= step,
                cause: Cause::Front(row),
                board,
            };
            let held = used
                .iter()
                .filter(|(column, _)| side.holds(problem, column));
            let over = held.map(|(_, share)| share).sum::<f64>() - said(solved, &side);
            let known = worst.get(&(run, step, side.below));
            if over > ASIDE && known.is_none_or(|(worst, _)| over > *worst) {
                worst.insert((run, step, side.below), (over, side));
            }
        }
    }
    worst.into_values().map(|(_, side)| side).collect()
}

/// Fronts and single boards that staves of them come from.
fn glued_on(problem: &Problem, used: &[(&Column, f64)]) -> Vec<(usize, usize)> {
    let used = used
        .iter()
        .filter(|(column, share)| *share > 1e-4 && problem.stock[column.pattern.stock].count == 1);
    let mut on: Vec<(usize, usize)> = used
        .flat_map(|(column, _)| {
            let modes = column.staves.iter().map(|&(mode, _)| mode);
            let rows = modes.flat_map(|mode| problem.modes[mode].rows.clone());
            rows.map(|row| (row, column.pattern.stock))
        })
        .collect();
    on.sort_unstable();
    on.dedup();
    on
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
            cause: Cause::Board,
            board,
        };
        let below = (tone < steps).then(|| side(tone, true));
        let above = (tone > 0).then(|| side(tone.wrapping_sub(1), false));
        let both = below.into_iter().chain(above);
        both.filter(move |side| share > said(solved, side) + ASIDE)
    };
    shares.into_iter().flat_map(beside).collect()
}
