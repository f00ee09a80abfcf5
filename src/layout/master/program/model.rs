//! The variables of a master program, what it is built from, and its coefficients.

use good_lp::{Constraint, Expression, Variable};

use crate::layout::master::columns::Column;
use crate::layout::master::program::row::Row;
use crate::layout::master::separate::subset_row::SubsetRow;
use crate::layout::master::separate::tone_side::Side;
use crate::layout::model::problem::Problem;
use crate::layout::model::worths::Worths;
use crate::layout::pricing::rounding_cut::RoundingCut;

/// Stave widths are entered in inches, so that all coefficients are of one size.
pub(in crate::layout) const NM_PER_INCH: f64 = 25.4e6;

/// Cost, in a master program, of each break, foot or tone step over a limit, and of each board
/// that must be used and is not.
pub(in crate::layout) const EXCESS_COST: f64 = 200.0;

/// The variables of one master program.
pub(in crate::layout) struct Model {
    pub(in crate::layout) patterns: Vec<Variable>,
    pub(in crate::layout) unmade: Vec<Variable>,
    /// How far breaks, feet and tone are over their limits.
    pub(in crate::layout) excess: [Variable; 3],
    /// How far the boards that must be used are not.
    pub(in crate::layout) idle: Vec<Variable>,
    /// Whether nothing is made of each run: then it has no break less than stretches.
    pub(in crate::layout) gone: Vec<Variable>,
    /// Whether each gluing is used; `None` for gluings without a stave in any column.
    pub(in crate::layout) glued: Vec<Option<Variable>>,
    /// `below[run][step]`, and the same above; the last run is the case.
    pub(in crate::layout) below: Vec<Vec<Variable>>,
    pub(in crate::layout) above: Vec<Vec<Variable>>,
    pub(in crate::layout) objective: Expression,
    pub(in crate::layout) rows: Vec<(Row, Constraint)>,
}

/// Which of the rows that seldom matter to enter.
pub(in crate::layout) type Steps<'s> = &'s dyn Fn(&Row) -> bool;

/// What a master program may choose from.
#[derive(Clone, Copy)]
pub(in crate::layout) struct RestrictedMaster<'c> {
    pub(in crate::layout) columns: &'c [&'c Column],
    /// Cost of leaving each front unmade.
    pub(in crate::layout) unmade: &'c [f64],
    pub(in crate::layout) extra: Extra<'c>,
}

/// What a master program must keep to beyond what every plan does.
#[derive(Clone, Copy, Default)]
pub(in crate::layout) struct Extra<'c> {
    pub(in crate::layout) subset_rows: &'c [SubsetRow],
    pub(in crate::layout) rounding: &'c [RoundingCut],
    pub(in crate::layout) sides: &'c [Side],
    /// Boards that must all be used.
    pub(in crate::layout) full: &'c [usize],
}

/// What no choice changes: runs have one stretch more than breaks (unless they are gone), and one
/// of `P` and `D` is free.
pub(in crate::layout) fn constant(problem: &Problem) -> f64 {
    let &Worths {
        unbroken,
        tone_run,
        tone_case,
        // Nothing is taken for granted of these.
        glue_line: _,
        mixed: _,
    } = &problem.worth;
    let heights = heights(problem);
    let runs = problem.live_runs().count() as f64;
    -unbroken * runs - heights * (tone_run * runs + tone_case)
}

/// Difference between the tones on either side of a step.
pub(in crate::layout) fn height(problem: &Problem, step: usize) -> f64 {
    problem.tones[step + 1] - problem.tones[step]
}

/// Cost of using a gluing: its glue lines and its one stretch.
pub(in crate::layout) fn gluing_cost(problem: &Problem, gluing: usize) -> f64 {
    let m = &problem.gluings[gluing];
    let lines = (m.staves - 1) * m.rows.len();
    problem.worth.glue_line * lines as f64 + problem.worth.unbroken
}

/// Stretches that come to `breaks`: one more in each run.
pub(in crate::layout) fn most_stretches(problem: &Problem, breaks: usize) -> f64 {
    (breaks + problem.live_runs().count()) as f64
}

/// Darkest less palest tone on hand.
pub(in crate::layout) fn heights(problem: &Problem) -> f64 {
    (0..problem.tones.len().saturating_sub(1))
        .map(|step| height(problem, step))
        .sum()
}
