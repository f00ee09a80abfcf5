//! Logs and ways of sawing beyond the first that a run is cut from.

use good_lp::{Expression, ProblemVariables, Variable, constraint, variable};

use crate::layout::master::program::model::{Model, RestrictedMaster};
use crate::layout::master::program::row::Row;
use crate::layout::master::program::tones::{Covering, covering};
use crate::layout::model::looks::KINDS;
use crate::layout::model::problem::Problem;

/// What covers a front with a label is within the label's share of its run, and a run pays for the sum of those
/// shares less one, if that is more than nothing.
pub(in crate::layout) fn mixed(
    problem: &Problem,
    restricted: &RestrictedMaster,
    whole: bool,
    vars: &mut ProblemVariables,
    model: &mut Model,
) {
    if !problem.looks.mix() {
        return;
    }
    let covering = covering(problem, restricted);
    for kind in (0..KINDS).filter(|&kind| problem.looks.labels[kind] > 0) {
        for run in problem.live_runs() {
            let mut sum = Expression::default();
            for label in 0..problem.looks.labels[kind] {
                let share = variable().min(0);
                let share = vars.add(if whole { share.integer().max(1) } else { share });
                sum.add_mul(1.0, share);
                for row in problem.runs[run].clone() {
                    let of = (kind, label);
                    label_of_front(problem, restricted, &covering[row], model, (of, row, share));
                }
            }
            let more = vars.add(variable().min(0));
            model.objective.add_mul(problem.worth.mixed[kind], more);
            let within = constraint!(sum - more <= 1.0);
            model.rows.push((Row::Mixed(kind, run), within));
        }
    }
}

fn label_of_front(
    problem: &Problem,
    restricted: &RestrictedMaster,
    covering: &Covering,
    model: &mut Model,
    ((kind, label), row, share): ((usize, usize), usize, Variable),
) {
    let mut cut: Expression = -1.0 * share;
    let mut any = false;
    for &(index, _, part) in covering {
        let stock = &problem.stock[restricted.columns[index].pattern.stock];
        if problem.looks.all[stock.look].labels[kind] == Some(label) {
            cut.add_mul(part, model.patterns[index]);
            any = true;
        }
    }
    if any {
        let row = Row::Label(kind, row, label);
        model.rows.push((row, constraint!(cut <= 0.0)));
    }
}
