//! The whole search: a first plan, prices, a bound, and proof that nothing cheaper is left.

use std::time::{Duration, Instant};

use rayon::prelude::*;

use super::master::{Columns, Relaxation, Relaxed, choose};
use super::pattern::Costs;
use super::price::{Limit, Priced, price};
use super::problem::Problem;
use super::ruin::Ruin;
use super::state::{State, UNMADE};
use super::steps;
use super::watch::{News, Watch};

/// A plan this close to the bound is the best there is.
const CLOSED: f64 = 1e-7;
/// Rounds of ruin and recreate, and for jobs of more than this many fronts.
const ROUNDS: u32 = 400;
const FEW_ROUNDS: u32 = 60;
const MANY: usize = 300;
/// Half-made patterns looked at for each board, at first and at most.
const NODES: [usize; 2] = [20_000, 50_000_000];
/// Share of the best prices so far in those asked at.
const CALM: f64 = 0.5;
/// Patterns taken for each board in one round of pricing.
const ROUND: usize = 12;
/// More patterns than this near the bound are not given to the whole-number program.
const MOST_NEAR: usize = 40_000;
/// Seconds for a whole-number program when no time was set.
const PATIENCE: f64 = 60.0;

/// Where a search stands.
pub(super) struct Search<'p, 'a> {
    problem: &'p Problem<'a>,
    costs: Costs,
    watch: &'p dyn Watch,
    begun: Instant,
    time: Option<Duration>,
    columns: Columns,
    relaxation: Relaxation,
    pub(super) best: State,
    /// Cost of `best`, what is not made included.
    cost: f64,
    pub(super) bound: f64,
    /// What divides the cost of every plan that makes all fronts, if anything does.
    step: Option<f64>,
    /// Cost of leaving the smallest front unmade.
    least_unmade: f64,
}

impl<'p, 'a> Search<'p, 'a> {
    pub(super) fn new(
        problem: &'p Problem<'a>,
        watch: &'p dyn Watch,
        time: Option<Duration>,
        begun: Instant,
    ) -> Search<'p, 'a> {
        let best = State::new(problem);
        Search {
            problem,
            costs: Costs::default(),
            watch,
            begun,
            time,
            columns: Columns::default(),
            relaxation: Relaxation::new(problem),
            cost: best.cost(problem),
            best,
            bound: 0.0,
            step: steps::step(problem),
            least_unmade: (0..problem.chain.len())
                .map(|row| UNMADE * problem.area(row))
                .fold(f64::INFINITY, f64::min),
        }
    }

    /// Runs until the plan is proved best, or time is up, or all means are used up.
    pub(super) fn run(&mut self, seed: u64) {
        self.first_plans(seed);
        let Some(relaxed) = self.price_out() else {
            return;
        };
        if self.closed() {
            return;
        }
        let known = std::mem::take(&mut self.columns);
        self.choose_from(&known, 0.3);
        self.columns = known;
        self.close_gap(&relaxed);
    }

    pub(super) fn seconds(&self) -> f64 {
        self.begun.elapsed().as_secs_f64()
    }

    fn stopped(&self) -> bool {
        self.watch.stop() || self.time.is_some_and(|t| self.begun.elapsed() >= t)
    }

    fn closed(&self) -> bool {
        self.cost - self.bound <= CLOSED * self.cost.max(1.0)
    }

    fn seconds_left(&self) -> f64 {
        self.time
            .map_or(PATIENCE, |t| t.as_secs_f64() - self.seconds())
    }

    fn tell(&self) {
        let penalty = self.best.penalty(self.problem);
        self.watch.news(&News {
            cost: self.cost - penalty,
            bound: (self.bound - penalty).max(0.0),
            made: self.problem.chain.len() - self.best.unmade().count(),
            seconds: self.seconds(),
        });
    }

    fn offer(&mut self, state: State) {
        let cost = state.cost(self.problem);
        if cost < self.cost - 1e-9 {
            for pattern in &state.boards {
                self.columns.add(self.problem, pattern);
            }
            (self.best, self.cost) = (state, cost);
            self.tell();
        }
    }

    /// Ruin and recreate; every pattern met on the way is worth remembering.
    fn first_plans(&mut self, seed: u64) {
        let costs = std::mem::take(&mut self.costs);
        let mut ruin = Ruin::new(self.problem, &costs, seed);
        self.offer(ruin.best.clone());
        let rounds = if self.problem.chain.len() > MANY {
            FEW_ROUNDS
        } else {
            ROUNDS
        };
        for round in 0..rounds {
            if self.stopped() {
                break;
            }
            if ruin.round(2.0 * (1.0 - f64::from(round) / f64::from(rounds))) {
                self.offer(ruin.best.clone());
            }
            for pattern in &ruin.now.boards {
                self.columns.add(self.problem, pattern);
            }
        }
        self.costs = costs;
    }

    /// Column generation: the relaxation over all patterns, or nothing when stopped before.
    fn price_out(&mut self) -> Option<Relaxed> {
        let mut nodes = NODES[0];
        // Prices swing wildly while few patterns are known: those asked at lie between the
        // relaxation's own and the best so far, as long as that finds something.
        let mut calm: Option<(f64, Relaxed)> = None;
        loop {
            if self.stopped() {
                return None;
            }
            let relaxed = self.relaxation.solve(self.problem, &self.columns)?;
            let mut added = 0;
            let mut priced = Vec::new();
            if let Some((best, calmer)) = &calm {
                let between = relaxed.between(calmer, CALM);
                priced = self.price_all(&between, CLOSED, nodes, ROUND);
                added = self.add_found(&priced);
                let bound = lagrange(self.problem, &between, &priced);
                if bound > *best {
                    calm = Some((bound, between));
                }
            }
            if added == 0 {
                priced = self.price_all(&relaxed, CLOSED, nodes, ROUND);
                added = self.add_found(&priced);
                let bound = lagrange(self.problem, &relaxed, &priced);
                if calm.as_ref().is_none_or(|(best, _)| bound > *best) {
                    calm = Some((bound, relaxed.clone()));
                }
            }
            let best = calm.as_ref().map_or(0.0, |(best, _)| *best);
            self.raise_bound(best);
            let converged = relaxed.cost - self.bound < CLOSED * relaxed.cost.abs().max(1.0);
            if self.closed() || (converged && !self.relaxation.insist(self.problem, &relaxed)) {
                return Some(relaxed);
            }
            if added == 0 && !self.relaxation.insist(self.problem, &relaxed) {
                let complete = priced.iter().all(|p| p.complete);
                if complete || nodes >= NODES[1] {
                    return Some(relaxed);
                }
                nodes *= 10;
            }
        }
    }

    fn add_found(&mut self, priced: &[Priced]) -> usize {
        let found = priced.iter().flat_map(|p| &p.found).filter(|v| v.sure);
        found
            .filter(|v| self.columns.add(self.problem, &v.pattern))
            .count()
    }

    fn raise_bound(&mut self, bound: f64) {
        let bound = match self.step {
            // A plan that leaves a front unmade is dearer than the best.
            Some(step) if self.cost < self.least_unmade => steps::next(bound, step),
            _ => bound,
        };
        if bound > self.bound {
            self.bound = bound.min(self.cost);
            self.tell();
        }
    }

    fn price_all(&self, relaxed: &Relaxed, least: f64, nodes: usize, found: usize) -> Vec<Priced> {
        let (watch, begun, time) = (self.watch, self.begun, self.time);
        let stop = move || watch.stop() || time.is_some_and(|t| begun.elapsed() >= t);
        let limit = Limit {
            nodes,
            found,
            best_only: found == ROUND,
            stop: &stop,
        };
        let prices = relaxed.prices.per_wood(relaxed.wood);
        let least = least / relaxed.wood;
        (0..self.problem.stock.len())
            .into_par_iter()
            .map(|stock| price(self.problem, &self.costs, &prices, stock, least, &limit))
            .collect()
    }

    /// The best plan of the given patterns; true when there is none cheaper.
    fn choose_from(&mut self, columns: &Columns, share: f64) -> bool {
        let seconds = self.seconds_left() * share;
        let Some(chosen) = choose(self.problem, columns, seconds) else {
            return false;
        };
        self.offer(State::of(
            self.problem,
            columns.pick(self.problem, &chosen.columns),
        ));
        chosen.best
    }

    /// All patterns that can be in a plan cheaper than the best known, and the best plan of them.
    ///
    /// A plan costs at least the bound plus, for each of its patterns, what that pattern falls
    /// short of its price. So a pattern that falls short by more than the gap is in no better plan.
    fn close_gap(&mut self, relaxed: &Relaxed) {
        if self.closed() || self.stopped() {
            return;
        }
        let gap = self.cost - self.bound;
        let priced = self.price_all(relaxed, -gap - CLOSED, NODES[1], MOST_NEAR);
        let mut real = Columns::default();
        let mut near = Columns::default();
        for pattern in &self.best.boards {
            real.add(self.problem, pattern);
        }
        // Where the best arrangement is not sure, the hoped-for one stands in for it.
        for valued in priced.iter().flat_map(|p| &p.found).filter(|v| !v.sure) {
            near.add(self.problem, &valued.pattern);
        }
        for valued in priced.iter().flat_map(|p| &p.found).filter(|v| v.sure) {
            real.add(self.problem, &valued.pattern);
        }
        let unsure = near.len();
        for pattern in real.patterns() {
            near.add(self.problem, pattern);
        }
        let complete = priced.iter().all(|p| p.complete) && near.len() <= MOST_NEAR;
        if !complete {
            return;
        }
        if let Some(chosen) = choose(self.problem, &near, self.seconds_left()) {
            let hoped = chosen.columns.iter().any(|&column| column < unsure);
            if !hoped {
                self.offer(State::of(
                    self.problem,
                    near.pick(self.problem, &chosen.columns),
                ));
            }
            if chosen.best {
                // The program counts one break too few for a run of which nothing is made.
                self.raise_bound(if hoped { chosen.cost } else { self.cost });
            }
            if hoped {
                self.choose_from(&real, 1.0);
            }
        }
    }
}

/// Weak duality: the fixed part less the most every board can be worth.
fn lagrange(problem: &Problem, relaxed: &Relaxed, priced: &[Priced]) -> f64 {
    let boards: f64 = priced
        .iter()
        .enumerate()
        .map(|(stock, p)| {
            let place = relaxed.prices.board[stock];
            (p.upper * relaxed.wood - place).max(0.0) * problem.stock[stock].count as f64
        })
        .sum();
    relaxed.fixed - boards
}
