//! The master program in whole numbers.

use good_lp::{Solution, SolutionStatus, SolverModel, WithTimeLimit, microlp};

use crate::layout::master::columns::Column;
use crate::layout::master::program::build::build;
use crate::layout::master::program::model::{Extra, RestrictedMaster, constant};
use crate::layout::master::program::row::Row;
use crate::layout::model::problem::Problem;

/// What the whole-number program came to.
pub(in crate::layout) struct Chosen {
    /// Columns to cut, by position; one cut twice stands twice.
    pub(in crate::layout) columns: Vec<usize>,
    pub(in crate::layout) cost: f64,
    /// Whether nothing cheaper can be made of these columns.
    pub(in crate::layout) best: bool,
}

/// The cheapest way to cut every front once from `columns`, searched for `seconds` at most.
pub(in crate::layout) fn choose(
    problem: &Problem,
    columns: &[&Column],
    seconds: f64,
) -> Option<Chosen> {
    let unmade: Vec<f64> = (0..problem.chain.len())
        .map(|row| problem.unmade(row))
        .collect();
    let wanted = |row: &Row| matches!(row, Row::Below(..) | Row::Above(..));
    let restricted = RestrictedMaster {
        columns,
        unmade: &unmade,
        extra: Extra::default(),
    };
    let (vars, model) = build(problem, &restricted, true, &wanted);
    let mut program = vars
        .minimise(model.objective.clone())
        .using(microlp)
        .with_time_limit(seconds.max(0.01));
    for (_, constraint) in model.rows {
        program.add_constraint(constraint);
    }
    let solution = program.solve().ok()?;
    let mut chosen = Vec::new();
    for (index, &x) in model.patterns.iter().enumerate() {
        let times = solution.value(x).round() as usize;
        chosen.extend(std::iter::repeat_n(index, times));
    }
    Some(Chosen {
        columns: chosen,
        cost: solution.eval(&model.objective) + constant(problem),
        best: matches!(solution.status(), SolutionStatus::Optimal),
    })
}
