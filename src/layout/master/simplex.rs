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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::generate::{Size, generate};
    use crate::layout::geometry::costs::Costs;
    use crate::layout::heuristics::ruin::Ruin;
    use crate::layout::master::columns::Columns;
    use crate::layout::master::program::model::Extra;
    use crate::layout::master::relax::Relaxation;

    /// The relaxation over the patterns of some plans, and what it costs by either method.
    fn both(seed: u64, more: &dyn Fn(&Problem, &Columns) -> More) -> [f64; 2] {
        let job = generate(Size::CHEST, seed);
        let problem = Problem::new(&job, false);
        let costs = Costs::default();
        let mut ruin = Ruin::new(&problem, &costs, 1);
        let mut columns = Columns::default();
        for _ in 0..30 {
            ruin.round(1.0);
            for pattern in &ruin.now.boards {
                columns.add(&problem, pattern);
            }
        }
        let all = columns.all();
        let relaxation = Relaxation::new(&problem);
        let more = more(&problem, &columns);
        let simplex = relaxation.simplex(&problem, &all, Extra::default());
        let simplex = simplex.expect("some plan is a solution");
        let kept = all.iter().enumerate();
        let kept = kept.filter(|(place, _)| !more.barred.contains(place));
        let kept: Vec<_> = kept.map(|(_, column)| *column).collect();
        let mut narrowed = problem.clone();
        narrowed.sides = more.sides.clone();
        let full: Vec<usize> = more
            .full
            .iter()
            .map(|(places, _)| all[places[0]].pattern.stock)
            .collect();
        let extra = Extra {
            full: &full,
            ..Extra::default()
        };
        let solved = relaxation.clone().solve(&narrowed, &kept, extra, 1e-9);
        let solved = solved.expect("leaving all unmade is a solution");
        [
            simplex.cost(&more).expect("it can be solved"),
            solved.relaxed.cost,
        ]
    }

    fn assert_equal(more: &dyn Fn(&Problem, &Columns) -> More) {
        for seed in 1..=8 {
            let [simplex, interior] = both(seed, more);
            assert!(
                (simplex - interior).abs() < 1e-5 * interior.abs().max(1.0),
                "seed {seed}: {simplex} by simplex, {interior} else"
            );
        }
    }

    #[test]
    fn it_costs_what_the_interior_point_solver_says() {
        assert_equal(&|_, _| More::default());
    }

    #[test]
    fn without_some_columns_it_costs_what_the_relaxation_of_the_others_does() {
        assert_equal(&|_, columns| More {
            barred: (0..columns.len()).step_by(3).collect(),
            ..More::default()
        });
    }

    #[test]
    fn a_board_that_must_be_used_costs_what_a_relaxation_that_must_use_it_does() {
        assert_equal(&|_, columns| {
            let all = columns.all();
            let board = all[all.len() / 2].pattern.stock;
            let of = |&place: &usize| all[place].pattern.stock == board;
            More {
                full: vec![((0..all.len()).filter(of).collect(), 1)],
                ..More::default()
            }
        });
    }

    #[test]
    fn a_case_on_both_sides_costs_what_a_relaxation_that_knows_it_does() {
        let sides = |problem: &Problem, _: &Columns| {
            let (run, step) = (problem.runs.len(), problem.tones.len() / 2);
            let on = |below| OnSide { run, step, below };
            More {
                sides: vec![on(true), on(false)],
                ..More::default()
            }
        };
        assert_equal(&sides);
        let ([asked, _], [unasked, _]) = (both(3, &sides), both(3, &|_, _| More::default()));
        assert!(asked > unasked + 0.01, "{asked}, {unasked}");
    }

    #[test]
    fn what_cannot_be_had_costs_without_end() {
        let more = More {
            barred: vec![0],
            full: vec![(vec![0], 1)],
            ..More::default()
        };
        let job = generate(Size::CHEST, 1);
        let problem = Problem::new(&job, false);
        let costs = Costs::default();
        let ruin = Ruin::new(&problem, &costs, 1);
        let mut columns = Columns::default();
        for pattern in &ruin.best.boards {
            columns.add(&problem, pattern);
        }
        let relaxation = Relaxation::new(&problem);
        let simplex = relaxation.simplex(&problem, &columns.all(), Extra::default());
        let simplex = simplex.expect("some plan is a solution");
        assert_eq!(simplex.cost(&more), Some(f64::INFINITY));
    }
}
