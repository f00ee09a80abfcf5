//! The relaxation: fractions of patterns allowed, tone rows added where they bind.

use std::collections::{HashMap, HashSet};

use good_lp::{DualValues, Solution, SolutionWithDual, SolverModel, clarabel};

use super::super::problem::Problem;
use super::super::state::UNMADE;
use super::columns::Columns;
use super::model::{Row, build, constant};
use super::prices::{Safe, safe};

use super::super::price::Prices;

/// A relaxation that remembers which tone rows have ever been needed.
pub(in super::super) struct Relaxation {
    rows: HashSet<Row>,
    /// Cost of leaving each front unmade: enough that nobody would, but no more, since a front's
    /// price may swing as far as that while few patterns are known.
    unmade: Vec<f64>,
}

/// A solved relaxation.
#[derive(Clone)]
pub(in super::super) struct Relaxed {
    /// Cost over the columns known: no bound by itself.
    pub(in super::super) cost: f64,
    pub(in super::super) prices: Prices,
    /// See [`Safe`].
    pub(in super::super) fixed: f64,
    /// See [`Safe`].
    pub(in super::super) wood: f64,
    /// Share of each front left unmade.
    pub(in super::super) unmade: Vec<f64>,
}

impl Relaxed {
    /// Prices between these and `other`'s, `share` of the latter: as safe as both, since what
    /// makes prices safe is linear in them.
    pub(in super::super) fn between(&self, other: &Relaxed, share: f64) -> Relaxed {
        let mix = |a: f64, b: f64| (1.0 - share) * a + share * b;
        let mixed = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(&a, &b)| mix(a, b)).collect();
        let items = self.prices.item.iter().zip(&other.prices.item);
        Relaxed {
            prices: Prices {
                item: items.map(|(a, b)| mixed(a, b)).collect(),
                width: mixed(&self.prices.width, &other.prices.width),
                board: mixed(&self.prices.board, &other.prices.board),
            },
            fixed: mix(self.fixed, other.fixed),
            wood: mix(self.wood, other.wood),
            ..self.clone()
        }
    }
}

/// A tone row broken by less than this is left out.
const SLIGHT: f64 = 1e-6;

impl Relaxation {
    pub(in super::super) fn new(problem: &Problem) -> Relaxation {
        let wood = |row: usize| {
            let item = &problem.items[problem.starts[row].start];
            let rate = problem
                .stock
                .iter()
                .map(|s| s.whole / (s.length as f64 * s.width as f64));
            item.length as f64 * item.width as f64 * rate.fold(0.0, f64::max)
        };
        Relaxation {
            rows: HashSet::new(),
            unmade: (0..problem.chain.len())
                .map(|row| 2.0 * wood(row) + problem.worth.unbroken + problem.worth.glue_line)
                .collect(),
        }
    }

    /// Raises the cost of what the relaxation leaves unmade; false when there is nothing to raise.
    pub(in super::super) fn insist(&mut self, problem: &Problem, relaxed: &Relaxed) -> bool {
        let mut raised = false;
        for (row, &share) in relaxed.unmade.iter().enumerate() {
            let most = UNMADE * problem.area(row);
            if share > SLIGHT && self.unmade[row] < most {
                self.unmade[row] = (self.unmade[row] * 3.0).min(most);
                raised = true;
            }
        }
        raised
    }

    /// Solves the relaxation over `columns`; nothing when the solver fails.
    pub(in super::super) fn solve(
        &mut self,
        problem: &Problem,
        columns: &Columns,
    ) -> Option<Relaxed> {
        loop {
            let (solved, broken) = self.solve_once(problem, columns)?;
            if broken.is_empty() {
                return Some(solved);
            }
            self.rows.extend(broken);
        }
    }

    fn solve_once(&self, problem: &Problem, columns: &Columns) -> Option<(Relaxed, Vec<Row>)> {
        let (vars, model) = build(problem, columns, &self.unmade, false, &|row| {
            self.rows.contains(row)
        });
        let mut program = vars.minimise(model.objective.clone()).using(clarabel);
        let names: Vec<Row> = model.rows.iter().map(|(row, _)| *row).collect();
        let references: Vec<_> = model
            .rows
            .into_iter()
            .map(|(_, constraint)| program.add_constraint(constraint))
            .collect();
        let mut solution = program.solve().ok()?;
        let cost = solution.eval(&model.objective) + constant(problem);
        let shares: Vec<f64> = model.patterns.iter().map(|&x| solution.value(x)).collect();
        let unmade: Vec<f64> = model.unmade.iter().map(|&x| solution.value(x)).collect();
        let below = below_steps(problem, columns, &shares);
        let mut broken = Vec::new();
        for run in problem.live_runs() {
            for step in 0..model.below[run].len() {
                let p = solution.value(model.below[run][step]);
                let d = solution.value(model.above[run][step]);
                let single = |&row: &usize| problem.twins.count(row) == 1;
                for row in problem.runs[run].clone().filter(single) {
                    let (low, all) = (below[row][step], below[row][problem.tones.len() - 1]);
                    if low > p + SLIGHT {
                        broken.push(Row::Below(row, step));
                    }
                    if all - low > d + SLIGHT {
                        broken.push(Row::Above(row, step));
                    }
                }
            }
        }
        broken.retain(|row| !self.rows.contains(row));
        let dual = solution.compute_dual();
        let duals: HashMap<Row, f64> = names
            .into_iter()
            .zip(references)
            .map(|(row, reference)| (row, dual.dual(reference)))
            .collect();
        let Safe {
            prices,
            fixed,
            wood,
        } = safe(problem, &duals);
        let solved = Relaxed {
            cost,
            prices,
            fixed,
            wood,
            unmade,
        };
        Some((solved, broken))
    }
}

/// `[row][tone]`: how often each front is cut from boards of that tone or paler.
fn below_steps(problem: &Problem, columns: &Columns, shares: &[f64]) -> Vec<Vec<f64>> {
    let mut cut = vec![vec![0.0; problem.tones.len()]; problem.chain.len()];
    for (column, &share) in columns.all.iter().zip(shares) {
        for &item in &column.wholes {
            for row in problem.items[item].rows.clone() {
                cut[row][column.tone] += share;
            }
        }
        for &(mode, _) in &column.staves {
            let m = &problem.modes[mode];
            for row in m.rows.clone() {
                cut[row][column.tone] += share / m.staves as f64;
            }
        }
    }
    for tones in &mut cut {
        for tone in 1..tones.len() {
            tones[tone] += tones[tone - 1];
        }
    }
    cut
}
