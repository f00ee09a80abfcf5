//! Which sides of each tone step the runs and the case are on.

use good_lp::{Expression, ProblemVariables, Variable, constraint, variable};

use crate::layout::master::program::model::{Model, RestrictedMaster, Steps};
use crate::layout::master::program::row::Row;
use crate::layout::model::problem::Problem;

/// The columns that cut one front: their place, tone, and share of the front, which for a stave
/// is its share of the staves.
pub(in crate::layout) type Covering = Vec<(usize, usize, f64)>;

/// Which sides of each step the runs and the case are on.
pub(in crate::layout) fn tones(
    problem: &Problem,
    restricted: &RestrictedMaster,
    vars: &mut ProblemVariables,
    model: &mut Model,
    wanted: Steps,
) {
    let case = problem.runs.len();
    let covering = covering(problem, restricted);
    for run in problem.live_runs() {
        for row in problem.runs[run].clone() {
            // Identical fronts have no say in any tone.
            if problem.identical.count(row) == 1 {
                front_tones(problem, &covering[row], vars, model, (run, row), wanted);
            }
        }
    }
    for step in 0..problem.tones.len().saturating_sub(1) {
        let (pc, dc) = (model.below[case][step], model.above[case][step]);
        for run in problem.live_runs() {
            let (p, d) = (model.below[run][step], model.above[run][step]);
            let rows = [
                (Row::Sides(run, step), constraint!(p + d >= 1.0)),
                (Row::CaseBelow(run, step), constraint!(pc - p >= 0.0)),
                (Row::CaseAbove(run, step), constraint!(dc - d >= 0.0)),
            ];
            model.rows.extend(rows);
        }
        model
            .rows
            .push((Row::CaseSides(step), constraint!(pc + dc >= 1.0)));
    }
}

/// What one front says about its run's sides. The sums up to each tone are variables of their own,
/// each made of the one before: a pattern then stands in one row for each front it cuts, instead
/// of in one for each step, and the program stays sparse.
fn front_tones(
    problem: &Problem,
    covering: &Covering,
    vars: &mut ProblemVariables,
    model: &mut Model,
    (run, row): (usize, usize),
    wanted: Steps,
) {
    let mut paler: Option<(usize, Variable)> = None;
    for step in 0..problem.tones.len().saturating_sub(1) {
        let (below, above) = (Row::Below(row, step), Row::Above(row, step));
        if !wanted(&below) && !wanted(&above) {
            continue;
        }
        let upto = vars.add(variable().min(0));
        let mut sum: Expression = -1.0 * upto;
        if let Some((_, paler)) = paler {
            sum.add_mul(1.0, paler);
        }
        let from = paler.map_or(0, |(step, _)| step + 1);
        for &(index, tone, share) in covering {
            if (from..=step).contains(&tone) {
                sum.add_mul(share, model.patterns[index]);
            }
        }
        let whole = Row::UpTo(row, step);
        model.rows.push((whole, constraint!(sum == 0.0)));
        let (p, d) = (model.below[run][step], model.above[run][step]);
        if wanted(&below) {
            model.rows.push((below, constraint!(upto - p <= 0.0)));
        }
        if wanted(&above) {
            let unmade = model.unmade[row];
            let within = constraint!(upto + d + unmade >= 1.0);
            model.rows.push((above, within));
        }
        paler = Some((step, upto));
    }
}

/// A board in use puts the case on its side of every step. Fronts cut by fractions from boards of all
/// tones would be on either side by fractions only, and no board is used by more than those.
pub(in crate::layout) fn boards(
    problem: &Problem,
    restricted: &RestrictedMaster,
    model: &mut Model,
    wanted: Steps,
) {
    let mut used = vec![Expression::default(); problem.stock.len()];
    for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
        let board = column.pattern.stock;
        if wanted(&Row::BoardBelow(board)) || wanted(&Row::BoardAbove(board)) {
            used[board].add_mul(1.0, x);
        }
    }
    let case = problem.runs.len();
    for (board, used) in used.into_iter().enumerate() {
        let stock = &problem.stock[board];
        let (below, above) = (Row::BoardBelow(board), Row::BoardAbove(board));
        if wanted(&below) {
            let most = stock.count as f64 * model.below[case][stock.tone];
            let within = constraint!(used.clone() <= most);
            model.rows.push((below, within));
        }
        if wanted(&above) {
            let most = stock.count as f64 * model.above[case][stock.tone - 1];
            model.rows.push((above, constraint!(used <= most)));
        }
    }
}

/// The columns that cut each front.
pub(in crate::layout) fn covering(
    problem: &Problem,
    restricted: &RestrictedMaster,
) -> Vec<Covering> {
    let mut covering: Vec<Covering> = vec![Vec::new(); problem.chain.len()];
    for (index, column) in restricted.columns.iter().enumerate() {
        for &item in &column.wholes {
            for row in problem.items[item].rows.clone() {
                covering[row].push((index, column.tone, 1.0));
            }
        }
        for &(gluing, _) in &column.staves {
            let m = &problem.gluings[gluing];
            for row in m.rows.clone() {
                covering[row].push((index, column.tone, 1.0 / m.staves as f64));
            }
        }
    }
    covering
}
