//! Where a search stands, and the order of its steps.

use std::time::{Duration, Instant};

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::state::State;
use crate::layout::heuristics::trim;
use crate::layout::master::columns::Columns;
use crate::layout::master::relax::Relaxation;
use crate::layout::master::solved::Solved;
use crate::layout::model::problem::Problem;
use crate::layout::model::steps;
use crate::layout::model::watch::{News, Watch};
use crate::layout::search::dual_point::DualPoint;
use crate::layout::search::list::list_search::Beat;
use crate::layout::search::tolerance::CLOSED;
use crate::layout::search::warm_start::{Known, Learned, WarmStart};

/// Share of a cost that is more than it may be off for rounding.
const ROUNDING: f64 = 1e-5;
/// Seconds for a whole-number program when no time was set.
const PATIENCE: f64 = 60.0;

/// Share of the best plan's cost another may have that is worth better trim for its staves.
const ALMOST: f64 = 1.01;

/// Fronts of a job whose prices know the sides of tone steps that glued fronts put their runs on: with
/// more that takes too many rounds of pricing.
const MOST_SIDED: usize = 40;

/// Where a search stands.
pub(in crate::layout) struct Optimiser<'p, 'a> {
    pub(in crate::layout) problem: &'p Problem<'a>,
    pub(in crate::layout) costs: Costs,
    pub(in crate::layout) watch: &'p dyn Watch,
    pub(in crate::layout) begun: Instant,
    pub(in crate::layout) time: Option<Duration>,
    pub(in crate::layout) columns: Columns,
    pub(in crate::layout) relaxation: Relaxation,
    pub(in crate::layout) incumbent: State,
    /// Cost of `best`, what is not made included.
    pub(in crate::layout) cost: f64,
    pub(in crate::layout) bound: f64,
    /// What divides the cost of every plan that makes all fronts, if anything does.
    pub(in crate::layout) step: Option<f64>,
    /// What a search of nearly the same job knew.
    pub(in crate::layout) known: Option<&'p Known>,
    /// What the next one may start from.
    pub(in crate::layout) learned: Learned,
}

impl<'p, 'a> Optimiser<'p, 'a> {
    pub(in crate::layout) fn new(
        problem: &'p Problem<'a>,
        watch: &'p dyn Watch,
        time: Option<Duration>,
        begun: Instant,
    ) -> Optimiser<'p, 'a> {
        let best = State::new(problem);
        Optimiser {
            problem,
            costs: Costs::default(),
            watch,
            begun,
            time,
            columns: Columns::default(),
            relaxation: Relaxation::new(problem).until(time.map(|time| begun + time)),
            cost: best.cost(problem),
            incumbent: best,
            bound: problem.most_saved(),
            step: steps::step(problem),
            known: None,
            learned: Learned::default(),
        }
    }

    /// The same, starting from what a search of nearly the same job knew.
    pub(in crate::layout) fn from(self, known: Option<&'p Known>) -> Optimiser<'p, 'a> {
        Optimiser { known, ..self }
    }

    /// Runs until the plan is proved best, or time is up, or all means are used up.
    pub(in crate::layout) fn run(&mut self, seed: u64) {
        if let Some(root) = self.root(seed, true) {
            self.learned.columns = self.near(&root.0.relaxed);
            self.close(root, seed);
        }
    }

    /// What the next search may start from; nothing where this one was over before there were prices.
    pub(in crate::layout) fn warm_start(self) -> Option<WarmStart> {
        let known = !self.learned.duals.is_empty();
        known.then(|| WarmStart::of(self.problem, self.learned, self.incumbent.boards))
    }

    /// Looks for better plans from the prices of the whole job on, and closes the gap.
    pub(in crate::layout) fn close(
        &mut self,
        (solved, dual_point): (Solved, Option<DualPoint>),
        seed: u64,
    ) {
        if self.problem.identical.any() && !self.closed() {
            let known = std::mem::take(&mut self.columns);
            self.choose_from(&known, 0.3);
            self.columns = known;
        }
        if !self.sided() {
            self.round(&solved, seed);
        }
        if self.problem.identical.any() {
            self.close_gap(&solved.relaxed);
            return;
        }
        self.combine_and_close(&solved.relaxed);
        if !self.closed() {
            self.grow(solved, dual_point);
        }
    }

    /// Whether prices are to know the sides of tone steps.
    pub(in crate::layout) fn sided(&self) -> bool {
        self.problem.chain.len() <= MOST_SIDED && !self.problem.gluings.is_empty()
    }

    pub(in crate::layout) fn seconds(&self) -> f64 {
        self.begun.elapsed().as_secs_f64()
    }

    pub(in crate::layout) fn stopped(&self) -> bool {
        self.stop()()
    }

    /// What tells others whether to stop.
    pub(in crate::layout) fn stop(&self) -> impl Fn() -> bool + Sync + use<'p, 'a> {
        let (watch, begun, time) = (self.watch, self.begun, self.time);
        move || watch.stop() || time.is_some_and(|t| begun.elapsed() >= t)
    }

    pub(in crate::layout) fn closed(&self) -> bool {
        self.closes(self.bound)
    }

    /// Whether a bound proves the best plan: by what that costs, and not by the price of what it does not make.
    pub(in crate::layout) fn closes(&self, bound: f64) -> bool {
        let cost = self.cost - self.incumbent.penalty(self.problem);
        self.cost - bound <= CLOSED * cost.max(1.0)
    }

    pub(in crate::layout) fn seconds_left(&self) -> f64 {
        self.time
            .map_or(PATIENCE, |t| t.as_secs_f64() - self.seconds())
    }

    fn tell(&self) {
        let penalty = self.incumbent.penalty(self.problem);
        self.watch.news(&News {
            cost: self.cost - penalty,
            bound: (self.bound - penalty).max(0.0),
            made: self.problem.chain.len() - self.incumbent.unmade().count(),
            seconds: self.seconds(),
        });
    }

    pub(in crate::layout) fn offer(&mut self, mut state: State) {
        if state.cost(self.problem) < self.cost * ALMOST
            && let Some(trimmed) = trim::trim(self.problem, &self.costs, &state)
        {
            state = trimmed;
        }
        if !state.is_wide_enough(self.problem) {
            return;
        }
        let cost = state.cost(self.problem);
        // What makes all fronts within the limits is not given up for what does not, however cheap.
        let spoils =
            || self.incumbent.penalty(self.problem) == 0.0 && state.penalty(self.problem) > 0.0;
        if cost < self.cost - 1e-9 && !spoils() {
            for pattern in &state.boards {
                self.columns.add(self.problem, pattern);
            }
            (self.incumbent, self.cost) = (state, cost);
            self.tell();
        }
    }

    /// What a plan costs that costs at least `bound`, if all costs come in steps.
    pub(in crate::layout) fn rounded(&self, bound: f64) -> f64 {
        match self.step {
            Some(step) if self.makes_all_in_steps() => steps::next(bound, step),
            _ => bound,
        }
    }

    /// Whether costs come in steps: those of all plans that, like the best, make all fronts within
    /// the limits.
    pub(in crate::layout) fn makes_all_in_steps(&self) -> bool {
        self.step.is_some() && self.incumbent.penalty(self.problem) == 0.0
    }

    pub(in crate::layout) fn raise_bound(&mut self, bound: f64) {
        let bound = self.rounded(bound);
        if bound > self.bound {
            self.bound = bound.min(self.cost);
            self.tell();
        }
    }

    /// What a plan cheaper than the best costs less than: where costs come in steps, it is a whole step
    /// cheaper.
    pub(in crate::layout) fn aim(&self) -> f64 {
        match self.step {
            Some(step) if self.makes_all_in_steps() => {
                self.cost - (step - ROUNDING * self.cost).max(0.0)
            }
            _ => self.cost,
        }
    }

    pub(in crate::layout) fn beat(&self) -> Beat {
        Beat {
            cost: self.aim(),
            penalty: self.incumbent.penalty(self.problem),
            makes_all: self.incumbent.complete(self.problem),
        }
    }

    /// Cost of leaving each front unmade: where all can be made, no more than what makes it dearer
    /// than the best plan known.
    pub(in crate::layout) fn unmade_costs(&self) -> Vec<f64> {
        let most = if self.beat().makes_all {
            self.cost + 1.0
        } else {
            f64::INFINITY
        };
        (0..self.problem.chain.len())
            .map(|row| self.problem.unmade(row).min(most))
            .collect()
    }
}
