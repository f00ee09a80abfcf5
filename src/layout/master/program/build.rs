//! Puts the master program together, and its plainest constraints.

use good_lp::{Expression, ProblemVariables, Variable, constraint, variable};

use crate::layout::master::program::model::{
    EXCESS_COST, Model, NM_PER_INCH, RestrictedMaster, Steps, gluing_cost, height,
};
use crate::layout::master::program::row::Row;
use crate::layout::master::program::{limits, mixed, narrow_wide, tones};
use crate::layout::model::problem::{OnSide, Problem};
use crate::layout::model::worths::Worths;

/// The program; `whole` makes the choices whole numbers.
pub(in crate::layout) fn build(
    problem: &Problem,
    restricted: &RestrictedMaster,
    whole: bool,
    wanted: Steps,
) -> (ProblemVariables, Model) {
    let mut vars = ProblemVariables::new();
    let steps = problem.tones.len().saturating_sub(1);
    let choice = |vars: &mut ProblemVariables, most: i32| {
        let v = variable().min(0);
        vars.add(if whole { v.integer().max(most) } else { v })
    };
    let active = active(problem, restricted);
    let mut model = Model {
        patterns: restricted
            .columns
            .iter()
            .map(|c| {
                let copies = problem.stock[c.pattern.stock].count as i32;
                let once = c.wholes.iter().any(|&item| {
                    let row = problem.items[item].rows.start;
                    problem.identical.count(row) == 1
                });
                choice(&mut vars, if once { 1 } else { copies })
            })
            .collect(),
        unmade: (0..problem.chain.len())
            .map(|row| choice(&mut vars, problem.identical.count(row) as i32))
            .collect(),
        excess: std::array::from_fn(|_| vars.add(variable().min(0))),
        gone: problem
            .runs
            .iter()
            .map(|_| vars.add(variable().min(0)))
            .collect(),
        idle: restricted
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
    model.objective = objective(problem, restricted, &model);
    cover(problem, restricted, &mut model);
    gone(problem, &mut model);
    stock(problem, restricted, &mut model);
    glue(problem, restricted, &mut model);
    narrow_wide::narrow_wide(problem, restricted, &mut model, wanted);
    tones::tones(problem, restricted, &mut vars, &mut model, wanted);
    tones::boards(problem, restricted, &mut model, wanted);
    mixed::mixed(problem, restricted, whole, &mut vars, &mut model);
    limits::limits(problem, restricted, &mut model);
    limits::once(restricted, &mut model, wanted);
    limits::subset_rows(problem, restricted, &mut model);
    limits::rounding(restricted, &mut model);
    limits::board_sides(problem, restricted, &mut model);
    (vars, model)
}

fn objective(problem: &Problem, restricted: &RestrictedMaster, model: &Model) -> Expression {
    // Glue lines are in the cost of a gluing; logs and ways of sawing are entered with their rows (`mixed`).
    let &Worths {
        unbroken,
        tone_run,
        tone_case,
        glue_line: _,
        mixed: _,
    } = &problem.worth;
    let mut cost = Expression::with_capacity(model.patterns.len() + model.unmade.len());
    for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
        cost.add_mul(column.cost, x);
    }
    for (&cost_of, &x) in restricted.unmade.iter().zip(&model.unmade) {
        cost.add_mul(cost_of, x);
    }
    for &gone in &model.gone {
        cost.add_mul(unbroken, gone);
    }
    for &excess in model.excess.iter().chain(&model.idle) {
        cost.add_mul(EXCESS_COST, excess);
    }
    for (gluing, x) in model.glued.iter().enumerate() {
        if let Some(x) = *x {
            cost.add_mul(gluing_cost(problem, gluing), x);
        }
    }
    for step in 0..problem.tones.len().saturating_sub(1) {
        let height = height(problem, step);
        for run in problem.live_runs() {
            cost.add_mul(tone_run * height, model.below[run][step]);
            cost.add_mul(tone_run * height, model.above[run][step]);
        }
        let case = problem.runs.len();
        cost.add_mul(tone_case * height, model.below[case][step]);
        cost.add_mul(tone_case * height, model.above[case][step]);
    }
    cost
}

/// Every front is cut once: in one piece, or as part of a glued stretch.
fn cover(problem: &Problem, restricted: &RestrictedMaster, model: &mut Model) {
    let mut cut: Vec<Expression> = model.unmade.iter().map(|&x| x.into()).collect();
    for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
        for &item in &column.wholes {
            for row in problem.items[item].rows.clone() {
                cut[row].add_mul(1.0, x);
            }
        }
    }
    for (gluing, x) in model.glued.iter().enumerate() {
        if let Some(x) = *x {
            for row in problem.gluings[gluing].rows.clone() {
                cut[row].add_mul(1.0, x);
            }
        }
    }
    for (row, cut) in cut.into_iter().enumerate() {
        let fronts = problem.identical.count(row) as f64;
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
fn stock(problem: &Problem, restricted: &RestrictedMaster, model: &mut Model) {
    let mut used = vec![Expression::default(); problem.stock.len()];
    for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
        used[column.pattern.stock].add_mul(1.0, x);
    }
    for (index, used) in used.into_iter().enumerate() {
        let count = problem.stock[index].count as f64;
        if let Some(place) = restricted
            .extra
            .full
            .iter()
            .position(|&board| board == index)
        {
            let used = constraint!(used + model.idle[place] == count);
            model.rows.push((Row::Full(index), used));
        } else {
            let used = constraint!(used <= count);
            model.rows.push((Row::Board(index), used));
        }
    }
}

/// A gluing is used with all its staves, and they are wide enough together.
fn glue(problem: &Problem, restricted: &RestrictedMaster, model: &mut Model) {
    let mut staves = vec![Expression::default(); problem.gluings.len()];
    let mut widths = vec![Expression::default(); problem.gluings.len()];
    for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
        for &(gluing, width) in &column.staves {
            staves[gluing].add_mul(1.0, x);
            widths[gluing].add_mul(width as f64 / NM_PER_INCH, x);
        }
    }
    for (gluing, (mut staves, mut widths)) in staves.into_iter().zip(widths).enumerate() {
        if let Some(x) = model.glued[gluing] {
            let m = &problem.gluings[gluing];
            staves.add_mul(-(m.staves as f64), x);
            widths.add_mul(-(m.asked_width as f64) / NM_PER_INCH, x);
            model
                .rows
                .push((Row::Staves(gluing), constraint!(staves == 0.0)));
            model
                .rows
                .push((Row::Width(gluing), constraint!(widths >= 0.0)));
        }
    }
}

/// Whether each gluing has a stave in some column.
fn active(problem: &Problem, restricted: &RestrictedMaster) -> Vec<bool> {
    let mut active = vec![false; problem.gluings.len()];
    for &(gluing, _) in restricted.columns.iter().flat_map(|c| &c.staves) {
        active[gluing] = true;
    }
    active
}
