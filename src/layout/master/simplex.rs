//! The relaxation by the simplex method: what it would cost if more were asked of it.
//!
//! From one solution it is a few pivots of the dual simplex method to the next, while an interior point
//! solver starts anew each time. There are no prices with it: what it says is good for choosing between
//! questions, and no bound.

use std::collections::HashMap;
use std::time::Duration;

use good_lp::{SolverModel, Variable, WithTimeLimit, microlp as simplex};
use microlp::{ComparisonOp, Error, LinearExpr, Solution};

use crate::layout::master::program::build::build;
use crate::layout::master::program::model::{Model, RestrictedMaster, Steps, constant};
use crate::layout::model::problem::{OnSide, Problem};

/// A relaxation and its solution.
pub(in crate::layout) struct Simplex {
    solution: Solution,
    patterns: Vec<microlp::Variable>,
    /// See [`Model`].
    below: Vec<Vec<microlp::Variable>>,
    above: Vec<Vec<microlp::Variable>>,
    constant: f64,
}

/// What is asked beyond what the relaxation asks.
#[derive(Default)]
pub(in crate::layout) struct More {
    /// Columns that may not be had, by place.
    pub(in crate::layout) barred: Vec<usize>,
    /// Columns of which there must be so many.
    pub(in crate::layout) full: Vec<(Vec<usize>, usize)>,
    /// Sides of tone steps that runs are on.
    pub(in crate::layout) sides: Vec<OnSide>,
}

impl Simplex {
    /// Solves the relaxation, and later those that ask for more, each for so long at most; nothing when
    /// the solver fails.
    pub(in crate::layout) fn new(
        problem: &Problem,
        restricted: &RestrictedMaster,
        wanted: Steps,
        most: Option<Duration>,
    ) -> Option<Simplex> {
        let (vars, mut model) = build(problem, restricted, false, wanted);
        let order: Vec<Variable> = vars.iter_variables_with_def().map(|(v, _)| v).collect();
        let mut program = vars.minimise(model.objective.clone()).using(simplex);
        if let Some(most) = most {
            program = program.with_time_limit(most.as_secs_f64());
        }
        for (_, constraint) in std::mem::take(&mut model.rows) {
            program.add_constraint(constraint);
        }
        let solution = program.solve().ok()?.into_inner();
        let theirs = solution.iter().map(|(variable, _)| variable);
        let theirs: HashMap<Variable, microlp::Variable> = order.into_iter().zip(theirs).collect();
        let all = |ours: &Vec<Variable>| ours.iter().map(|v| theirs[v]).collect();
        let Model {
            patterns,
            below,
            above,
            ..
        } = model;
        Some(Simplex {
            patterns: all(&patterns),
            below: below.iter().map(all).collect(),
            above: above.iter().map(all).collect(),
            constant: constant(problem),
            solution,
        })
    }

    /// What the relaxation costs if more is asked: without end where that cannot be had; nothing when the
    /// solver fails.
    pub(in crate::layout) fn cost(&self, more: &More) -> Option<f64> {
        let sum = |places: &[usize]| -> LinearExpr {
            places.iter().map(|&i| (self.patterns[i], 1.0)).collect()
        };
        let mut rows = Vec::new();
        if !more.barred.is_empty() {
            rows.push((sum(&more.barred), ComparisonOp::Le, 0.0));
        }
        for (places, count) in &more.full {
            rows.push((sum(places), ComparisonOp::Ge, *count as f64));
        }
        for side in &more.sides {
            let sides = if side.below { &self.below } else { &self.above };
            let on = LinearExpr::from([(sides[side.run][side.step], 1.0)]);
            rows.push((on, ComparisonOp::Ge, 1.0));
        }
        let mut solution = self.solution.clone();
        for (row, op, than) in rows {
            solution = match solution.add_constraint(row, op, than) {
                Ok(outcome) => outcome.into_solution().ok()?,
                Err(Error::Infeasible) => return Some(f64::INFINITY),
                Err(_) => return None,
            };
        }
        Some(solution.objective() + self.constant)
    }
}
