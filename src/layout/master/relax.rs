//! The relaxation: fractions of patterns allowed, tone rows added where they bind.

use std::collections::HashMap;
use std::time::Instant;

use good_lp::{DualValues, Solution, SolutionWithDual, SolverModel, Variable, clarabel};

use crate::layout::master::columns::Column;
use crate::layout::master::prices::safe;
use crate::layout::master::program::build::build;
use crate::layout::master::program::model::{Extra, RestrictedMaster, constant};
use crate::layout::master::program::row::Row;
use crate::layout::master::separate::rounding::violated_rounding;
use crate::layout::master::separate::rows::Violated;
use crate::layout::master::separate::tone_side::{Side, violated_sides};
use crate::layout::master::simplex::Simplex;
use crate::layout::master::solved::{Relaxed, Solved};
use crate::layout::model::problem::Problem;
use crate::layout::model::worths::Worths;
use crate::layout::pricing::rounding_cut::RoundingCut;

/// A relaxation that remembers which tone rows matter.
#[derive(Clone)]
pub(in crate::layout) struct Relaxation {
    /// How many solutions in a row each has not mattered in.
    rows: HashMap<Row, u32>,
    /// Cost of leaving each front unmade: enough that nobody would, but no more, since a front's
    /// price may swing as far as that while few patterns are known.
    pub(in crate::layout) unmade: Vec<f64>,
    /// Sides of tone steps that glued fronts put their runs on, as far as found to matter, and how many
    /// solutions in a row each has not.
    sides: Vec<(Side, u32)>,
    /// Rounding cuts found to ask for more than patterns give, and how many solutions in a row each did not matter.
    rounding: Vec<(RoundingCut, u32)>,
    /// Whether to look for more sides, and for boards that give staves of a gluing by more than it is used.
    pub(in crate::layout) sided: bool,
    /// Patterns and cost of the last solution, and in how many in a row they have been the same.
    same: (usize, f64, u32),
    /// When solving is given up.
    until: Option<Instant>,
}

/// Leaves out what has not mattered for some time, unless all `stays`.
fn leave_idle<T>(kept: &mut Vec<(T, u32)>, stays: bool, mut matters: impl FnMut(&T) -> bool) {
    for (one, idle) in kept.iter_mut() {
        *idle = if matters(one) || stays { 0 } else { *idle + 1 };
    }
    kept.retain(|(_, idle)| *idle < PATIENCE);
}

/// A tone row violated by less than this is left out.
const LEAST_VIOLATION: f64 = 1e-6;
/// Share of the precision asked for that a row may be violated by.
const FEASIBLE: f64 = 0.1;
/// Steps of the solver are refined only when they are off by more: less changes neither their number nor,
/// but for last digits, what comes of them. Refining each takes a fifth of its time.
const REFINED: f64 = 1e-8;
/// A tone row with a smaller dual does not matter.
const MATTERS: f64 = 1e-3;

/// How far a front's price may rise in a part of the plans at first: this share of itself and of the
/// mean.
const BOX: f64 = 0.1;

/// A tone row that has not mattered in so many solutions is left out, as long as the cost changes.
const PATIENCE: u32 = 3;
/// One that has not in so many is not handed on.
const OF_LATE: u32 = 2;
/// Share of itself by which the cost may change and count as the same.
const SAME: f64 = 1e-7;
/// No solution yet.
const NONE: (usize, f64, u32) = (0, 0.0, 0);

impl Relaxation {
    pub(in crate::layout) fn new(problem: &Problem) -> Relaxation {
        let wood = |row: usize| {
            let item = &problem.items[problem.starts[row].start];
            let rate = problem
                .stock
                .iter()
                .map(|s| s.whole / (s.length as f64 * s.width as f64));
            item.length as f64 * item.width as f64 * rate.fold(0.0, f64::max)
        };
        let &Worths {
            unbroken,
            // Left out: where what is left is too little to make every front, it is raised.
            tone_run: _,
            tone_case: _,
            glue_line,
            mixed: [log, cut],
        } = &problem.worth;
        let looks = unbroken + glue_line + log + cut;
        Relaxation {
            rows: HashMap::new(),
            sides: Vec::new(),
            rounding: Vec::new(),
            sided: false,
            same: NONE,
            until: None,
            unmade: (0..problem.chain.len())
                .map(|row| (2.0 * wood(row) + looks).min(problem.unmade(row)))
                .collect(),
        }
    }

    /// Raises the cost of what the relaxation leaves unmade; false when there is nothing to raise.
    pub(in crate::layout) fn raise_unmade_costs(
        &mut self,
        problem: &Problem,
        relaxed: &Relaxed,
    ) -> bool {
        let mut raised = false;
        for (row, &share) in relaxed.unmade.iter().enumerate() {
            let most = problem.unmade(row);
            if share > LEAST_VIOLATION && self.unmade[row] < most {
                self.unmade[row] = (self.unmade[row] * 3.0).min(most);
                raised = true;
            }
        }
        raised
    }

    /// One that starts from the tone rows of this one that mattered of late, with other costs of what is not
    /// made.
    pub(in crate::layout) fn with_unmade(&self, unmade: Vec<f64>) -> Relaxation {
        let rows = self.rows.iter().filter(|&(_, &idle)| idle < OF_LATE);
        Relaxation {
            rows: rows.map(|(&row, &idle)| (row, idle)).collect(),
            sides: self.sides.clone(),
            rounding: self.rounding.clone(),
            sided: self.sided,
            same: NONE,
            until: self.until,
            unmade,
        }
    }

    /// One for a part of the plans: no front may have a price much higher than in the whole, until
    /// it is found that it must.
    pub(in crate::layout) fn boxed(&self, problem: &Problem, relaxed: &Relaxed) -> Relaxation {
        let mean = relaxed.fronts.iter().sum::<f64>() / relaxed.fronts.len().max(1) as f64;
        let most = |(row, &price): (usize, &f64)| {
            (price.max(0.0) + BOX * (price.max(0.0) + mean)).min(problem.unmade(row))
        };
        self.with_unmade(relaxed.fronts.iter().enumerate().map(most).collect())
    }

    /// The same, keeping these tone rows from the start.
    pub(in crate::layout) fn with_rows(mut self, rows: impl Iterator<Item = Row>) -> Relaxation {
        self.rows.extend(rows.map(|row| (row, 0)));
        self
    }

    /// The same, to be given up at a time: one solution may take seconds.
    pub(in crate::layout) fn until(self, until: Option<Instant>) -> Relaxation {
        Relaxation { until, ..self }
    }

    /// The same, looking for sides of tone steps that glued fronts put their runs on: a better bound for
    /// more rounds of pricing.
    pub(in crate::layout) fn sided(self) -> Relaxation {
        Relaxation {
            sided: true,
            ..self
        }
    }

    /// The sides of tone steps it keeps.
    pub(in crate::layout) fn sides(&self) -> Vec<Side> {
        self.sides.iter().map(|(side, _)| side.clone()).collect()
    }

    /// The rounding cuts it keeps.
    pub(in crate::layout) fn rounding(&self) -> Vec<RoundingCut> {
        let rounding = self.rounding.iter();
        rounding.map(|(rounding, _)| rounding.clone()).collect()
    }

    /// Solves the relaxation with the sides and rounding cuts it keeps; those it turns out to lack are there the
    /// next time.
    pub(in crate::layout) fn solve_sided(
        &mut self,
        problem: &Problem,
        columns: &[&Column],
        precision: f64,
    ) -> Option<Solved> {
        let (sides, rounding) = (self.sides(), self.rounding());
        let extra = Extra {
            sides: &sides,
            rounding: &rounding,
            full: &problem.used,
            ..Extra::default()
        };
        let mut solved = self.solve(problem, columns, extra, precision)?;
        let mut tolls = solved.relaxed.sided.iter();
        let stays = self.stays();
        leave_idle(&mut self.sides, stays, |_| {
            tolls.next().is_some_and(|toll| *toll > MATTERS)
        });
        let mut paying = solved.relaxed.prices.rounding.clone();
        paying.retain(|(_, gain)| *gain > MATTERS);
        leave_idle(&mut self.rounding, stays, |rounding| {
            paying.iter().any(|(of, _)| of == rounding)
        });
        let mut new = violated_rounding(problem, columns, &solved);
        new.retain(|cut| !rounding.contains(cut));
        solved.relaxed.tight &= new.is_empty();
        self.rounding.extend(new.into_iter().map(|cut| (cut, 0)));
        if !self.sided {
            return Some(solved);
        }
        let new: Vec<Side> = (violated_sides(problem, columns, &solved, false).into_iter())
            .filter(|side| !sides.contains(side))
            .collect();
        solved.relaxed.tight &= new.is_empty();
        self.sides.extend(new.into_iter().map(|side| (side, 0)));
        Some(solved)
    }

    /// Solves the relaxation over `columns` to within `precision` of its cost; nothing
    /// when the solver fails or time is up. Tone rows it turns out to lack are there the next time.
    pub(in crate::layout) fn solve(
        &mut self,
        problem: &Problem,
        columns: &[&Column],
        extra: Extra,
        precision: f64,
    ) -> Option<Solved> {
        let restricted = RestrictedMaster {
            columns,
            unmade: &self.unmade,
            extra,
        };
        let (vars, mut model) = build(problem, &restricted, false, &|row| {
            self.rows.contains_key(row)
        });
        let mut program = vars.minimise(model.objective.clone()).using(clarabel);
        let settings = program.settings();
        settings.tol_gap_rel(precision).tol_gap_abs(precision);
        settings.tol_feas(precision * FEASIBLE);
        settings.iterative_refinement_reltol(REFINED);
        settings.iterative_refinement_abstol(REFINED);
        if let Some(until) = self.until {
            let left = until.saturating_duration_since(Instant::now());
            settings.time_limit(left.as_secs_f64());
        }
        // The solver likes constraints of a kind side by side.
        model.rows.sort_by_key(|(row, _)| !row.equal());
        let rows = std::mem::take(&mut model.rows);
        let references: Vec<_> = rows
            .into_iter()
            .map(|(row, constraint)| (row, program.add_constraint(constraint)))
            .collect();
        let mut solution = program.solve().ok()?;
        let values =
            |xs: &[Variable]| -> Vec<f64> { xs.iter().map(|&x| solution.value(x)).collect() };
        let shares = values(&model.patterns);
        let unmade = values(&model.unmade);
        let glued = model.glued.iter();
        let glued: Vec<f64> = glued
            .map(|x| x.map_or(0.0, |x| solution.value(x)))
            .collect();
        let below: Vec<Vec<f64>> = model.below.iter().map(|steps| values(steps)).collect();
        let above: Vec<Vec<f64>> = model.above.iter().map(|steps| values(steps)).collect();
        let cost = solution.eval(&model.objective) + constant(problem);
        let mut violated = Violated {
            problem,
            columns,
            shares: &shares,
            glued: &glued,
            below: &below,
            above: &above,
            slight: LEAST_VIOLATION.max(precision),
        }
        .rows();
        let wanted = |row: &Row| self.sided || !matches!(row, Row::Once(..));
        violated.retain(|row| wanted(row) && !self.rows.contains_key(row));
        let dual = solution.compute_dual();
        let duals: HashMap<Row, f64> = references
            .into_iter()
            .map(|(row, reference)| (row, dual.dual(reference)))
            .collect();
        self.note(columns.len(), cost);
        self.forget(&duals);
        let safe = safe(problem, extra, &duals);
        let relaxed = Relaxed {
            cost,
            prices: safe.prices,
            fronts: safe.fronts,
            fixed: safe.fixed,
            wood: safe.wood,
            paired: safe.paired,
            sided: safe.sided,
            tight: violated.is_empty(),
            unmade,
        };
        self.rows.extend(violated.into_iter().map(|row| (row, 0)));
        Some(Solved {
            relaxed,
            shares,
            glued,
            below,
            above,
            duals,
        })
    }

    /// The relaxation over `columns` by the simplex method, with the rows it keeps, to ask more of it.
    pub(in crate::layout) fn simplex(
        &self,
        problem: &Problem,
        columns: &[&Column],
        extra: Extra,
    ) -> Option<Simplex> {
        let restricted = RestrictedMaster {
            columns,
            unmade: &self.unmade,
            extra,
        };
        let left = |until: Instant| until.saturating_duration_since(Instant::now());
        let wanted = |row: &Row| self.rows.contains_key(row);
        Simplex::new(problem, &restricted, &wanted, self.until.map(left))
    }

    /// Notes the cost of a solution over so many patterns.
    fn note(&mut self, patterns: usize, cost: f64) {
        let (before, known, times) = self.same;
        let same = before == patterns && (cost - known).abs() <= SAME * cost.abs().max(1.0);
        self.same = (patterns, cost, if same { times + 1 } else { 0 });
    }

    /// Whether nothing is left out any more: some rows that the cost does not depend on are violated by turns
    /// as others of them are left out, and solving would go on for ever.
    fn stays(&self) -> bool {
        self.same.2 > PATIENCE
    }

    /// Leaves out tone rows that have not mattered for some time; they come back when violated.
    fn forget(&mut self, duals: &HashMap<Row, f64>) {
        let stays = self.stays();
        self.rows.retain(|row, idle| {
            let matters = duals.get(row).is_some_and(|dual| dual.abs() > MATTERS);
            *idle = if matters || stays { 0 } else { *idle + 1 };
            *idle < PATIENCE
        });
    }
}
