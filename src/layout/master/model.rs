//! Builds the master program. Each constraint stands once, here, for relaxation and whole
//! numbers alike.

use good_lp::{Constraint, Expression, ProblemVariables, Variable, constraint, variable};

use super::super::problem::Problem;
use super::columns::Columns;

/// Stave widths are entered in inches, so that all coefficients are of one size.
pub(super) const NM_PER_INCH: f64 = 25.4e6;

/// Cost, in a master program, of each break, foot or tone step over a limit.
pub(super) const OVER: f64 = 200.0;

/// What a constraint says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Row {
    /// The front at this row, and each of its twins, is cut once or left unmade.
    Front(usize),
    /// Boards of this kind are no more than there are.
    Board(usize),
    /// All staves of this mode are cut when it is used.
    Staves(usize),
    /// The staves of this mode are wide enough together.
    Width(usize),
    /// Front, step: patterns at or below the step that cover the front are within `P`.
    Below(usize, usize),
    /// Front, step: patterns above the step that cover the front are within `D`.
    Above(usize, usize),
    /// Run, step: the run is on one side of the step at least.
    Sides(usize, usize),
    /// Run, step: what a run has below the step the case has too.
    CaseBelow(usize, usize),
    /// The same above.
    CaseAbove(usize, usize),
    /// Step: the case is on one side of it at least.
    CaseSides(usize),
    /// Breaks are within their limit.
    MostBreaks,
    /// Board feet used are within their limit.
    MostFeet,
    /// The tone spread of the case is within its limit.
    ToneWithin,
}

/// The variables of one master program.
pub(super) struct Model {
    pub(super) patterns: Vec<Variable>,
    pub(super) unmade: Vec<Variable>,
    /// How far breaks, feet and tone are over their limits.
    pub(super) over: [Variable; 3],
    /// Whether each mode is used; `None` for modes without a stave in any column.
    pub(super) glued: Vec<Option<Variable>>,
    /// `below[run][step]`, and the same above; the last run is the case.
    pub(super) below: Vec<Vec<Variable>>,
    pub(super) above: Vec<Vec<Variable>>,
    pub(super) objective: Expression,
    pub(super) rows: Vec<(Row, Constraint)>,
}

/// Which front-and-step rows to enter.
pub(super) type Steps<'s> = &'s dyn Fn(&Row) -> bool;

/// The program over `columns`, with the cost of leaving each front `unmade`; `whole` makes the
/// choices whole numbers.
pub(super) fn build(
    problem: &Problem,
    columns: &Columns,
    unmade: &[f64],
    whole: bool,
    wanted: Steps,
) -> (ProblemVariables, Model) {
    let mut vars = ProblemVariables::new();
    let steps = problem.tones.len().saturating_sub(1);
    let choice = |vars: &mut ProblemVariables, most: i32| {
        let v = variable().min(0);
        vars.add(if whole { v.integer().max(most) } else { v })
    };
    let active = columns.active(problem);
    let mut model = Model {
        patterns: columns
            .all
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
        glued: active
            .iter()
            .map(|&on| on.then(|| choice(&mut vars, 1)))
            .collect(),
        below: Vec::new(),
        above: Vec::new(),
        objective: Expression::default(),
        rows: Vec::new(),
    };
    for _ in 0..=problem.runs.len() {
        model
            .below
            .push((0..steps).map(|_| choice(&mut vars, 1)).collect());
        model
            .above
            .push((0..steps).map(|_| choice(&mut vars, 1)).collect());
    }
    model.objective = objective(problem, columns, unmade, &model);
    cover(problem, columns, &mut model);
    stock(problem, columns, &mut model);
    glue(problem, columns, &mut model);
    tones(problem, columns, &mut model, wanted);
    limits(problem, columns, &mut model);
    (vars, model)
}

/// What no choice changes: runs have one stretch more than breaks, and one of `P` and `D` is free.
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

fn objective(problem: &Problem, columns: &Columns, unmade: &[f64], model: &Model) -> Expression {
    let mut cost = Expression::with_capacity(model.patterns.len() + model.unmade.len());
    for (column, &x) in columns.all.iter().zip(&model.patterns) {
        cost.add_mul(column.cost, x);
    }
    for (&cost_of, &x) in unmade.iter().zip(&model.unmade) {
        cost.add_mul(cost_of, x);
    }
    for over in model.over {
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
fn cover(problem: &Problem, columns: &Columns, model: &mut Model) {
    let mut cut: Vec<Expression> = model.unmade.iter().map(|&x| x.into()).collect();
    for (column, &x) in columns.all.iter().zip(&model.patterns) {
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

/// No more boards of a kind than there are.
fn stock(problem: &Problem, columns: &Columns, model: &mut Model) {
    let mut used = vec![Expression::default(); problem.stock.len()];
    for (column, &x) in columns.all.iter().zip(&model.patterns) {
        used[column.pattern.stock].add_mul(1.0, x);
    }
    for (index, used) in used.into_iter().enumerate() {
        let count = problem.stock[index].count as f64;
        model
            .rows
            .push((Row::Board(index), constraint!(used <= count)));
    }
}

/// A mode is used with all its staves, and they are wide enough together.
fn glue(problem: &Problem, columns: &Columns, model: &mut Model) {
    let mut staves = vec![Expression::default(); problem.modes.len()];
    let mut widths = vec![Expression::default(); problem.modes.len()];
    for (column, &x) in columns.all.iter().zip(&model.patterns) {
        for &(mode, width) in &column.staves {
            staves[mode].add_mul(1.0, x);
            widths[mode].add_mul(width as f64 / NM_PER_INCH, x);
        }
    }
    for (mode, (mut staves, mut widths)) in staves.into_iter().zip(widths).enumerate() {
        if let Some(x) = model.glued[mode] {
            let m = &problem.modes[mode];
            staves.add_mul(-(m.staves as f64), x);
            widths.add_mul(-(m.total_width as f64) / NM_PER_INCH, x);
            model
                .rows
                .push((Row::Staves(mode), constraint!(staves == 0.0)));
            model
                .rows
                .push((Row::Width(mode), constraint!(widths >= 0.0)));
        }
    }
}

/// Which sides of each step the runs and the case are on.
fn tones(problem: &Problem, columns: &Columns, model: &mut Model, wanted: Steps) {
    let case = problem.runs.len();
    let covering = covering(problem, columns);
    for step in 0..problem.tones.len().saturating_sub(1) {
        for run in problem.live_runs() {
            // Twins have no say in any tone.
            let single = |&row: &usize| problem.twins.count(row) == 1;
            for row in problem.runs[run].clone().filter(single) {
                for side in [Row::Below(row, step), Row::Above(row, step)] {
                    if wanted(&side) {
                        let below = matches!(side, Row::Below(..));
                        let sides = if below { &model.below } else { &model.above };
                        let within = sides[run][step];
                        let cut = on_side(model, &covering[row], step, below);
                        model.rows.push((side, constraint!(cut - within <= 0.0)));
                    }
                }
            }
            let (p, d) = (model.below[run][step], model.above[run][step]);
            let (pc, dc) = (model.below[case][step], model.above[case][step]);
            let rows = [
                (Row::Sides(run, step), constraint!(p + d >= 1.0)),
                (Row::CaseBelow(run, step), constraint!(pc - p >= 0.0)),
                (Row::CaseAbove(run, step), constraint!(dc - d >= 0.0)),
            ];
            model.rows.extend(rows);
        }
        let (pc, dc) = (model.below[case][step], model.above[case][step]);
        model
            .rows
            .push((Row::CaseSides(step), constraint!(pc + dc >= 1.0)));
    }
}

/// The maker's limits, each to be overstepped at a price only.
fn limits(problem: &Problem, columns: &Columns, model: &mut Model) {
    let [over_breaks, over_feet, over_tone] = model.over;
    if let Some(most) = problem.limits.most_breaks {
        let mut stretches: Expression = -1.0 * over_breaks;
        for (column, &x) in columns.all.iter().zip(&model.patterns) {
            stretches.add_mul(column.wholes.len() as f64, x);
        }
        for &x in model.glued.iter().flatten() {
            stretches.add_mul(1.0, x);
        }
        let most = most_stretches(problem, most);
        model
            .rows
            .push((Row::MostBreaks, constraint!(stretches <= most)));
    }
    if let Some(most) = problem.limits.most_feet {
        let mut feet: Expression = -1.0 * over_feet;
        for (column, &x) in columns.all.iter().zip(&model.patterns) {
            feet.add_mul(column.pattern.wood, x);
        }
        let most = most.value();
        model.rows.push((Row::MostFeet, constraint!(feet <= most)));
    }
    if let Some(most) = problem.limits.tone_within {
        let case = problem.runs.len();
        let mut spread: Expression = -1.0 * over_tone;
        for step in 0..model.below[case].len() {
            spread.add_mul(height(problem, step), model.below[case][step]);
            spread.add_mul(height(problem, step), model.above[case][step]);
        }
        let most = most + heights(problem);
        model
            .rows
            .push((Row::ToneWithin, constraint!(spread <= most)));
    }
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

/// The columns that cut one front: their place, tone, and share of the front, which for a stave
/// is its share of the staves.
type Covering = Vec<(usize, usize, f64)>;

/// The columns that cut each front.
fn covering(problem: &Problem, columns: &Columns) -> Vec<Covering> {
    let mut covering: Vec<Covering> = vec![Vec::new(); problem.chain.len()];
    for (index, column) in columns.all.iter().enumerate() {
        for &item in &column.wholes {
            for row in problem.items[item].rows.clone() {
                covering[row].push((index, column.tone, 1.0));
            }
        }
        for &(mode, _) in &column.staves {
            let m = &problem.modes[mode];
            for row in m.rows.clone() {
                covering[row].push((index, column.tone, 1.0 / m.staves as f64));
            }
        }
    }
    covering
}

/// How often the columns on one side of a step cut a front.
fn on_side(model: &Model, covering: &Covering, step: usize, below: bool) -> Expression {
    let mut cut = Expression::default();
    for &(index, tone, share) in covering {
        if (tone <= step) == below {
            cut.add_mul(share, model.patterns[index]);
        }
    }
    cut
}
