//! Builds the master program. Each constraint stands once, here, for relaxation and whole
//! numbers alike.

mod limits;
mod mixed;
mod sisters;
mod tones;

use good_lp::{Constraint, Expression, ProblemVariables, Variable, constraint, variable};

use super::super::givers::Givers;
use super::super::problem::{OnSide, Problem};
use super::columns::Column;
use super::cuts::{Cut, Side};

/// Stave widths are entered in inches, so that all coefficients are of one size.
pub(super) const NM_PER_INCH: f64 = 25.4e6;

/// Cost, in a master program, of each break, foot or tone step over a limit, and of each board
/// that must be used and is not.
pub(super) const OVER: f64 = 200.0;

/// What a constraint says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Row {
    /// The front at this row, and each of its twins, is cut once or left unmade.
    Front(usize),
    /// Something of this run is made, or it is gone.
    Gone(usize),
    /// Boards of this kind are no more than there are.
    Board(usize),
    /// All boards of this kind are used.
    Full(usize),
    /// All staves of this mode are cut when it is used.
    Staves(usize),
    /// The staves of this mode are wide enough together.
    Width(usize),
    /// Mode, width: staves no wider have a sister that makes up for it.
    Sister(usize, i64),
    /// Mode, board: patterns of the board with staves of the mode are no more than the mode is used.
    Once(usize, usize),
    /// Front, step: what covers the front at or below the step is what does below the step entered
    /// before it, and the patterns of the tones between.
    UpTo(usize, usize),
    /// Front, step: what covers the front at or below the step is within `P`.
    Below(usize, usize),
    /// Front, step: what covers the front above the step is within `D`.
    Above(usize, usize),
    /// Run, step: the run is on one side of the step at least.
    Sides(usize, usize),
    /// Run, step: what a run has below the step the case has too.
    CaseBelow(usize, usize),
    /// The same above.
    CaseAbove(usize, usize),
    /// Step: the case is on one side of it at least.
    CaseSides(usize),
    /// Boards of this kind are used no more than the case is below the step darker than they.
    BoardBelow(usize),
    /// The same above the step paler.
    BoardAbove(usize),
    /// Kind, front, label: what covers the front with the label is within its share of the run.
    Label(usize, usize, usize),
    /// Kind, run: the run pays for the shares of its labels beyond one.
    Mixed(usize, usize),
    /// Breaks are within their limit.
    MostBreaks,
    /// Board feet used are within their limit.
    MostFeet,
    /// The tone spread of the case is within its limit.
    ToneWithin,
    /// The cut at this place.
    Cut(usize),
    /// Patterns give the units of staves that the givers at this place ask for.
    Givers(usize),
    /// What the side at this place says is within `P` or `D` of its run.
    Side(usize),
}

impl Row {
    /// Whether it is an equation.
    pub(super) fn equal(&self) -> bool {
        matches!(
            self,
            Row::Front(_) | Row::Full(_) | Row::UpTo(..) | Row::Staves(_)
        )
    }
}

/// The variables of one master program.
pub(super) struct Model {
    pub(super) patterns: Vec<Variable>,
    pub(super) unmade: Vec<Variable>,
    /// How far breaks, feet and tone are over their limits.
    pub(super) over: [Variable; 3],
    /// How far the boards that must be used are not.
    idle: Vec<Variable>,
    /// Whether nothing is made of each run: then it has no break less than stretches.
    gone: Vec<Variable>,
    /// Whether each mode is used; `None` for modes without a stave in any column.
    pub(super) glued: Vec<Option<Variable>>,
    /// `below[run][step]`, and the same above; the last run is the case.
    pub(super) below: Vec<Vec<Variable>>,
    pub(super) above: Vec<Vec<Variable>>,
    pub(super) objective: Expression,
    pub(super) rows: Vec<(Row, Constraint)>,
}

/// Which of the rows that seldom matter to enter.
pub(super) type Steps<'s> = &'s dyn Fn(&Row) -> bool;

/// What a master program may choose from.
#[derive(Clone, Copy)]
pub(super) struct Over<'c> {
    pub(super) columns: &'c [&'c Column],
    /// Cost of leaving each front unmade.
    pub(super) unmade: &'c [f64],
    pub(super) extra: Extra<'c>,
}

/// What a master program must keep to beyond what every plan does.
#[derive(Clone, Copy, Default)]
pub(in super::super) struct Extra<'c> {
    pub(in super::super) cuts: &'c [Cut],
    pub(in super::super) givers: &'c [Givers],
    pub(in super::super) sides: &'c [Side],
    /// Boards that must all be used.
    pub(in super::super) full: &'c [usize],
}

/// The program; `whole` makes the choices whole numbers.
pub(super) fn build(
    problem: &Problem,
    over: &Over,
    whole: bool,
    wanted: Steps,
) -> (ProblemVariables, Model) {
    let mut vars = ProblemVariables::new();
    let steps = problem.tones.len().saturating_sub(1);
    let choice = |vars: &mut ProblemVariables, most: i32| {
        let v = variable().min(0);
        vars.add(if whole { v.integer().max(most) } else { v })
    };
    let active = active(problem, over);
    let mut model = Model {
        patterns: over
            .columns
            .iter()
            .map(|c| {
                let copies = problem.stock[c.pattern.stock].count as i32;
                let once = c.wholes.iter().any(|&item| {
                    let row = problem.items[item].rows.start;
                    problem.twins.count(row) == 1
                });
                choice(&mut vars, if once { 1 } else { copies })
            })
            .collect(),
        unmade: (0..problem.chain.len())
            .map(|row| choice(&mut vars, problem.twins.count(row) as i32))
            .collect(),
        over: std::array::from_fn(|_| vars.add(variable().min(0))),
        gone: problem
            .runs
            .iter()
            .map(|_| vars.add(variable().min(0)))
            .collect(),
        idle: over
            .extra
            .full
            .iter()
            .map(|_| vars.add(variable().min(0)))
            .collect(),
        glued: active
            .iter()
            .map(|&on| on.then(|| choice(&mut vars, 1)))
            .collect(),
        below: Vec::new(),
        above: Vec::new(),
        objective: Expression::default(),
        rows: Vec::new(),
    };
    for run in 0..=problem.runs.len() {
        let mut side = |below: bool| -> Vec<Variable> {
            let on = |step| OnSide { run, step, below };
            let known = |step| problem.sides.contains(&on(step));
            (0..steps)
                .map(|step| match known(step) {
                    true => vars.add(variable().min(1)),
                    false => choice(&mut vars, 1),
                })
                .collect()
        };
        let (below, above) = (side(true), side(false));
        model.below.push(below);
        model.above.push(above);
    }
    model.objective = objective(problem, over, &model);
    cover(problem, over, &mut model);
    gone(problem, &mut model);
    stock(problem, over, &mut model);
    glue(problem, over, &mut model);
    sisters::sisters(problem, over, &mut model, wanted);
    tones::tones(problem, over, &mut vars, &mut model, wanted);
    tones::boards(problem, over, &mut model, wanted);
    mixed::mixed(problem, over, whole, &mut vars, &mut model);
    limits::limits(problem, over, &mut model);
    limits::once(over, &mut model, wanted);
    limits::cuts(problem, over, &mut model);
    limits::givers(over, &mut model);
    limits::board_sides(problem, over, &mut model);
    (vars, model)
}

/// What no choice changes: runs have one stretch more than breaks (unless they are gone), and one
/// of `P` and `D` is free.
pub(super) fn constant(problem: &Problem) -> f64 {
    let heights = heights(problem);
    let runs = problem.live_runs().count() as f64;
    -problem.worth.unbroken * runs
        - heights * (problem.worth.tone_run * runs + problem.worth.tone_case)
}

/// Difference between the tones on either side of a step.
pub(super) fn height(problem: &Problem, step: usize) -> f64 {
    problem.tones[step + 1] - problem.tones[step]
}

/// Cost of using a mode: its glue lines and its one stretch.
pub(super) fn mode_cost(problem: &Problem, mode: usize) -> f64 {
    let m = &problem.modes[mode];
    let lines = (m.staves - 1) * m.rows.len();
    problem.worth.glue_line * lines as f64 + problem.worth.unbroken
}

fn objective(problem: &Problem, over: &Over, model: &Model) -> Expression {
    let mut cost = Expression::with_capacity(model.patterns.len() + model.unmade.len());
    for (column, &x) in over.columns.iter().zip(&model.patterns) {
        cost.add_mul(column.cost, x);
    }
    for (&cost_of, &x) in over.unmade.iter().zip(&model.unmade) {
        cost.add_mul(cost_of, x);
    }
    for &gone in &model.gone {
        cost.add_mul(problem.worth.unbroken, gone);
    }
    for &over in model.over.iter().chain(&model.idle) {
        cost.add_mul(OVER, over);
    }
    for (mode, x) in model.glued.iter().enumerate() {
        if let Some(x) = *x {
            cost.add_mul(mode_cost(problem, mode), x);
        }
    }
    for step in 0..problem.tones.len().saturating_sub(1) {
        let height = height(problem, step);
        for run in problem.live_runs() {
            cost.add_mul(problem.worth.tone_run * height, model.below[run][step]);
            cost.add_mul(problem.worth.tone_run * height, model.above[run][step]);
        }
        let case = problem.runs.len();
        cost.add_mul(problem.worth.tone_case * height, model.below[case][step]);
        cost.add_mul(problem.worth.tone_case * height, model.above[case][step]);
    }
    cost
}

/// Every front is cut once: in one piece, or as part of a glued stretch.
fn cover(problem: &Problem, over: &Over, model: &mut Model) {
    let mut cut: Vec<Expression> = model.unmade.iter().map(|&x| x.into()).collect();
    for (column, &x) in over.columns.iter().zip(&model.patterns) {
        for &item in &column.wholes {
            for row in problem.items[item].rows.clone() {
                cut[row].add_mul(1.0, x);
            }
        }
    }
    for (mode, x) in model.glued.iter().enumerate() {
        if let Some(x) = *x {
            for row in problem.modes[mode].rows.clone() {
                cut[row].add_mul(1.0, x);
            }
        }
    }
    for (row, cut) in cut.into_iter().enumerate() {
        let fronts = problem.twins.count(row) as f64;
        if fronts > 0.0 {
            model
                .rows
                .push((Row::Front(row), constraint!(cut == fronts)));
        }
    }
}

/// A run is gone when none of its fronts is made.
fn gone(problem: &Problem, model: &mut Model) {
    for (run, rows) in problem.runs.iter().enumerate() {
        let mut gone: Expression = model.gone[run].into();
        for row in rows.clone() {
            gone.add_mul(-1.0, model.unmade[row]);
        }
        let made = 1.0 - rows.len() as f64;
        model.rows.push((Row::Gone(run), constraint!(gone >= made)));
    }
}

/// No more boards of a kind than there are.
fn stock(problem: &Problem, over: &Over, model: &mut Model) {
    let mut used = vec![Expression::default(); problem.stock.len()];
    for (column, &x) in over.columns.iter().zip(&model.patterns) {
        used[column.pattern.stock].add_mul(1.0, x);
    }
    for (index, used) in used.into_iter().enumerate() {
        let count = problem.stock[index].count as f64;
        if let Some(place) = over.extra.full.iter().position(|&board| board == index) {
            let used = constraint!(used + model.idle[place] == count);
            model.rows.push((Row::Full(index), used));
        } else {
            let used = constraint!(used <= count);
            model.rows.push((Row::Board(index), used));
        }
    }
}

/// A mode is used with all its staves, and they are wide enough together.
fn glue(problem: &Problem, over: &Over, model: &mut Model) {
    let mut staves = vec![Expression::default(); problem.modes.len()];
    let mut widths = vec![Expression::default(); problem.modes.len()];
    for (column, &x) in over.columns.iter().zip(&model.patterns) {
        for &(mode, width) in &column.staves {
            staves[mode].add_mul(1.0, x);
            widths[mode].add_mul(width as f64 / NM_PER_INCH, x);
        }
    }
    for (mode, (mut staves, mut widths)) in staves.into_iter().zip(widths).enumerate() {
        if let Some(x) = model.glued[mode] {
            let m = &problem.modes[mode];
            staves.add_mul(-(m.staves as f64), x);
            widths.add_mul(-(m.asked_width as f64) / NM_PER_INCH, x);
            model
                .rows
                .push((Row::Staves(mode), constraint!(staves == 0.0)));
            model
                .rows
                .push((Row::Width(mode), constraint!(widths >= 0.0)));
        }
    }
}

/// Whether each mode has a stave in some column.
fn active(problem: &Problem, over: &Over) -> Vec<bool> {
    let mut active = vec![false; problem.modes.len()];
    for &(mode, _) in over.columns.iter().flat_map(|c| &c.staves) {
        active[mode] = true;
    }
    active
}

/// Stretches that come to `breaks`: one more in each run.
pub(super) fn most_stretches(problem: &Problem, breaks: usize) -> f64 {
    (breaks + problem.live_runs().count()) as f64
}

/// Darkest less palest tone on hand.
pub(super) fn heights(problem: &Problem) -> f64 {
    (0..problem.tones.len().saturating_sub(1))
        .map(|step| height(problem, step))
        .sum()
}
