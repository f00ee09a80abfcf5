//! What fronts and boards must pay for the sides of tone steps they are on.

use crate::layout::master::program::model::height;
use crate::layout::master::program::row::Row;
use crate::layout::master::separate::tone_side::Side;
use crate::layout::model::problem::{OnSide, Problem};

/// What there is to pay for sides, safe to build a bound on.
pub(in crate::layout) struct Sides {
    /// `toll[row][tone]`.
    pub(in crate::layout) toll: Vec<Vec<f64>>,
    /// Sum of the duals of all `P + D >= 1` rows.
    pub(in crate::layout) paid: f64,
    /// Toll of each side a single board puts its run on.
    pub(in crate::layout) single: Vec<f64>,
    /// Toll of the tone that a board of each kind brings into the case.
    pub(in crate::layout) board: Vec<f64>,
}

/// The tolls the duals make, scaled down where a side would be paid more than it costs: `run_worth` a tone for
/// a run's, `case_worth` for the case's, what a limit adds included. `single` are the sides that boards put
/// runs on.
pub(in crate::layout) fn tolls(
    problem: &Problem,
    single: &[Side],
    (run_worth, case_worth): (f64, f64),
    dual: &dyn Fn(Row) -> f64,
) -> Sides {
    let tones = problem.tones.len();
    let sides = Sides {
        toll: vec![vec![0.0; tones]; problem.chain.len()],
        paid: 0.0,
        single: vec![0.0; single.len()],
        board: vec![0.0; problem.stock.len()],
    };
    let mut tolls = Tolls {
        problem,
        run_worth,
        single,
        dual,
        sides,
    };
    for step in 0..tones.saturating_sub(1) {
        let scale = tolls.case(step, case_worth);
        for run in problem.live_runs() {
            tolls.run(run, step, scale);
        }
    }
    tolls.sides
}

struct Tolls<'t, 'a> {
    problem: &'t Problem<'a>,
    run_worth: f64,
    single: &'t [Side],
    dual: &'t dyn Fn(Row) -> f64,
    sides: Sides,
}

impl Tolls<'_, '_> {
    /// What a row says "at least" with pays.
    fn gain(&self, row: Row) -> f64 {
        (self.dual)(row).max(0.0)
    }

    /// What a row that says "no more than" costs: such duals are negative or zero when costs are
    /// minimised.
    fn toll(&self, row: Row) -> f64 {
        (-(self.dual)(row)).max(0.0)
    }

    /// A side known to be on costs what no row pays for.
    fn pay_known(&mut self, side: OnSide, left: f64) {
        if self.problem.sides.contains(&side) {
            self.sides.paid += left.max(0.0);
        }
    }

    /// Pays for the case's sides of a step, each at `worth` a tone. Its own variables can pass on at
    /// most what they cost: that share of what they should.
    fn case(&mut self, step: usize, worth: f64) -> f64 {
        let (problem, run) = (self.problem, self.problem.runs.len());
        let runs = |row: fn(usize, usize) -> Row| -> f64 {
            let runs = problem.live_runs();
            runs.map(|run| self.gain(row(run, step))).sum()
        };
        let boards = |tone: usize, row: fn(usize) -> Row| -> Vec<(usize, f64)> {
            let boards = problem.stock.iter().enumerate();
            boards
                .filter(|(_, stock)| stock.tone == tone)
                .map(|(board, _)| (board, self.toll(row(board))))
                .collect()
        };
        let from = |tolls: &[(usize, f64)]| -> f64 {
            let each = tolls.iter();
            each.map(|&(board, toll)| toll * problem.stock[board].count as f64)
                .sum()
        };
        let paler = boards(step, Row::BoardBelow);
        let darker = boards(step + 1, Row::BoardAbove);
        let below = runs(Row::CaseBelow) + from(&paler);
        let above = runs(Row::CaseAbove) + from(&darker);
        let both = self.gain(Row::CaseSides(step));
        let cost = worth * height(problem, step);
        let scale = within(cost, both + below.max(above));
        self.sides.paid += both * scale;
        for (board, toll) in paler.into_iter().chain(darker) {
            self.sides.board[board] += toll * scale;
        }
        let side = |below| OnSide { run, step, below };
        self.pay_known(side(true), cost - (both + below) * scale);
        self.pay_known(side(false), cost - (both + above) * scale);
        scale
    }

    /// Pays for a run's sides of a step, where the case pays `scale` of what it should.
    fn run(&mut self, run: usize, step: usize, scale: f64) {
        let cost = self.run_worth * height(self.problem, step);
        let low = cost + self.gain(Row::CaseBelow(run, step)) * scale;
        let high = cost + self.gain(Row::CaseAbove(run, step)) * scale;
        let both = self.gain(Row::Sides(run, step)).min(low).min(high);
        self.sides.paid += both;
        let rows = self.problem.runs[run].clone();
        let paler = |row: usize| self.toll(Row::Below(row, step));
        let darker = |row: usize| self.gain(Row::Above(row, step));
        let below = rows.clone().map(paler).sum::<f64>() + self.single(run, step, true);
        let above = rows.clone().map(darker).sum::<f64>() + self.single(run, step, false);
        let side = |below| OnSide { run, step, below };
        self.pay_known(side(true), low - both - below);
        self.pay_known(side(false), high - both - above);
        let (below, above) = (within(low - both, below), within(high - both, above));
        for (index, side) in self.single.iter().enumerate() {
            if side.step == step && side.run == run {
                let scale = if side.below { below } else { above };
                self.sides.single[index] = self.toll(Row::Side(index)) * scale;
            }
        }
        for row in rows {
            let paler = self.toll(Row::Below(row, step)) * below;
            let darker = self.gain(Row::Above(row, step)) * above;
            for (tone, toll) in self.sides.toll[row].iter_mut().enumerate() {
                *toll += if tone <= step { paler } else { darker };
            }
        }
    }

    /// What single boards pay for one side of a run.
    fn single(&self, run: usize, step: usize, below: bool) -> f64 {
        let sides = self.single.iter().enumerate();
        sides
            .filter(|(_, side)| (side.run, side.step, side.below) == (run, step, below))
            .map(|(index, _)| self.toll(Row::Side(index)))
            .sum()
    }
}

/// Factor that brings `sum` down to `most`, if it is more.
fn within(most: f64, sum: f64) -> f64 {
    if sum > most {
        (most / sum).max(0.0)
    } else {
        1.0
    }
}
