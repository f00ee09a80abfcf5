//! The whole search: a first plan, prices, a bound, and proof that nothing cheaper is left.

use std::time::{Duration, Instant};

use rayon::prelude::*;

use super::master::{Columns, Extra, Relaxation, Relaxed, Solved, choose};
use super::near::Near;
use super::pattern::{Costs, Pattern};
use super::price::{Limit, Priced, price};
use super::problem::Problem;
use super::rounding;
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
/// Plans made to follow the relaxation's solution, and how many side by side.
const ROUNDINGS: usize = 16;
const ROUNDED: usize = 4;
/// How exactly the relaxation is solved, at first and at last.
const PRECISION: [f64; 2] = [1e-2, 1e-8];
/// Share of the open gap the relaxation may be off by.
const PRECISE: f64 = 0.1;
/// Patterns taken for each board in one round of pricing.
const ROUND: usize = 12;
/// Batches of parts looked at to combine the patterns met, before all are listed.
const COMBINING: usize = 8;
/// Shares of the gap to list patterns for, one after the other.
const SHARES: [f64; 3] = [0.25, 0.5, 1.0];
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
        let Some(solved) = self.price_out() else {
            return;
        };
        self.round(&solved, seed);
        if self.closed() {
            return;
        }
        if self.problem.twins.any() {
            let known = std::mem::take(&mut self.columns);
            self.choose_from(&known, 0.3);
            self.columns = known;
        } else {
            self.combine(&solved.relaxed);
        }
        self.close_gap(&solved.relaxed);
    }

    pub(super) fn seconds(&self) -> f64 {
        self.begun.elapsed().as_secs_f64()
    }

    fn stopped(&self) -> bool {
        self.stop()()
    }

    /// What tells others whether to stop.
    fn stop(&self) -> impl Fn() -> bool + Sync + use<'p, 'a> {
        let (watch, begun, time) = (self.watch, self.begun, self.time);
        move || watch.stop() || time.is_some_and(|t| begun.elapsed() >= t)
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

    /// Plans that follow the relaxation's solution, side by side.
    fn round(&mut self, solved: &Solved, seed: u64) {
        for batch in 0..ROUNDINGS / ROUNDED {
            if self.closed() || self.stopped() {
                return;
            }
            let states: Vec<State> = (0..ROUNDED)
                .into_par_iter()
                .map(|one| {
                    let seed = seed.wrapping_add((batch * ROUNDED + one + 1) as u64);
                    rounding::round(self.problem, &self.costs, &self.columns, solved, seed)
                })
                .collect();
            states.into_iter().for_each(|state| self.offer(state));
        }
    }

    /// Column generation: the relaxation over all patterns, or nothing when stopped before.
    fn price_out(&mut self) -> Option<Solved> {
        let mut nodes = NODES[0];
        // Prices swing wildly while few patterns are known: those asked at lie between the
        // relaxation's own and the best so far, as long as that finds something.
        let mut calm: Option<(f64, Relaxed)> = None;
        let mut precision = PRECISION[0];
        loop {
            if self.stopped() {
                return None;
            }
            let columns = self.columns.all();
            let solved =
                self.relaxation
                    .solve(self.problem, &columns, Extra::default(), precision)?;
            let relaxed = &solved.relaxed;
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
                priced = self.price_all(relaxed, CLOSED, nodes, ROUND);
                added = self.add_found(&priced);
                let bound = lagrange(self.problem, relaxed, &priced);
                if calm.as_ref().is_none_or(|(best, _)| bound > *best) {
                    calm = Some((bound, relaxed.clone()));
                }
            }
            // A board looked at in part holds the bound down more than a few dear prices.
            if !priced.iter().all(|p| p.complete) {
                nodes = (nodes * 2).min(NODES[1]);
            }
            let best = calm.as_ref().map_or(0.0, |(best, _)| *best);
            self.raise_bound(best);
            let rough = precision;
            let open = (relaxed.cost - self.bound) / relaxed.cost.abs().max(1.0);
            precision = precision
                .min(open * PRECISE)
                .clamp(PRECISION[1], PRECISION[0]);
            if added == 0 && relaxed.tight {
                precision = (precision * PRECISE).max(PRECISION[1]);
            }
            if !relaxed.tight || (rough > PRECISION[1] && (added > 0 || precision < rough)) {
                continue;
            }
            let converged = relaxed.cost - self.bound < CLOSED * relaxed.cost.abs().max(1.0);
            if self.closed() || (converged && !self.relaxation.insist(self.problem, relaxed)) {
                return Some(solved);
            }
            if added == 0 && !self.relaxation.insist(self.problem, relaxed) {
                let complete = priced.iter().all(|p| p.complete);
                if complete || nodes >= NODES[1] {
                    return Some(solved);
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
        let stop = self.stop();
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
        let Some(chosen) = choose(self.problem, &columns.all(), seconds) else {
            return false;
        };
        self.offer(State::of(
            self.problem,
            columns.pick(self.problem, &chosen.columns),
        ));
        chosen.best
    }

    /// The best plan of the patterns met so far that may be in one, as far as a short search goes.
    fn combine(&mut self, relaxed: &Relaxed) {
        if self.closed() || self.stopped() {
            return;
        }
        let gap = self.cost - base(self.problem, relaxed);
        let prices = relaxed.prices.per_wood(relaxed.wood);
        let short = |pattern: &Pattern| -prices.value(self.problem, pattern) * relaxed.wood;
        let mut met = Columns::default();
        for pattern in self.columns.patterns().filter(|p| short(p) < gap) {
            met.add(self.problem, pattern);
        }
        let stop = self.stop();
        let relaxation = self.relaxation.with_unmade(self.unmade_costs());
        let search = Near::new(self.problem, &met, 0, relaxation, self.cost, &stop);
        let outcome = search.at_most(COMBINING).search(self.bound);
        if let Some(found) = outcome.found {
            self.offer(State::of(self.problem, met.pick(self.problem, &found)));
        }
    }

    /// Closes the gap from below: lists all patterns that fall short of their price by less than
    /// so much, and finds the best plan made of them; then the same with more.
    ///
    /// A plan costs at least the bound plus, for each of its patterns, what that pattern falls
    /// short of its price. So a plan with a pattern left off the list costs at least the bound
    /// plus as much as the list goes to.
    fn close_gap(&mut self, relaxed: &Relaxed) {
        let (root, base) = (self.bound, base(self.problem, relaxed));
        for share in SHARES {
            let reach = (self.cost - root) * share + CLOSED;
            if self.closed() || self.stopped() || !self.reach(relaxed, base, reach) {
                return;
            }
        }
    }

    /// The best plan of the patterns that fall short by less than `reach`; false when there are too
    /// many. A plan of patterns none of which falls short costs `base`.
    fn reach(&mut self, relaxed: &Relaxed, base: f64, reach: f64) -> bool {
        let priced = self.price_all(relaxed, -reach, NODES[1], MOST_NEAR);
        let found = || priced.iter().flat_map(|p| &p.found);
        let mut near = Columns::default();
        // Where the best arrangement is not sure, the hoped-for one stands in for it.
        for valued in found().filter(|v| !v.sure) {
            near.add(self.problem, &valued.pattern);
        }
        let unsure = near.len();
        for valued in found().filter(|v| v.sure) {
            near.add(self.problem, &valued.pattern);
        }
        if near.len() > MOST_NEAR || !priced.iter().all(|p| p.complete) {
            return false;
        }
        let stop = self.stop();
        let unmade = self.unmade_costs();
        let relaxation = self.relaxation.with_unmade(unmade);
        let search = Near::new(self.problem, &near, unsure, relaxation, self.cost, &stop);
        let outcome = search.search(self.bound);
        if let Some(found) = outcome.found {
            self.offer(State::of(self.problem, near.pick(self.problem, &found)));
        }
        // What pricing left over may add to the worth of every board.
        let over = over(self.problem, relaxed, &priced);
        self.raise_bound(outcome.bound.min(base - over + reach));
        true
    }

    /// Cost of leaving each front unmade: where all can be made, no more than what makes it dearer
    /// than the best plan known.
    fn unmade_costs(&self) -> Vec<f64> {
        let all_made = self.best.unmade().next().is_none();
        let most = if all_made {
            self.cost + 1.0
        } else {
            f64::INFINITY
        };
        (0..self.problem.chain.len())
            .map(|row| (UNMADE * self.problem.area(row)).min(most))
            .collect()
    }
}

/// Cost of a plan that uses every board at its price and has only patterns worth theirs.
fn base(problem: &Problem, relaxed: &Relaxed) -> f64 {
    let boards = relaxed.prices.board.iter().zip(&problem.stock);
    let places: f64 = boards
        .map(|(place, stock)| place * stock.count as f64)
        .sum();
    relaxed.fixed + places
}

/// Most that patterns worth more than their price, which pricing leaves only by rounding, bring a
/// plan below its base.
fn over(problem: &Problem, relaxed: &Relaxed, priced: &[Priced]) -> f64 {
    let boards = priced.iter().zip(&problem.stock);
    let over = boards.map(|(p, stock)| p.upper.max(0.0) * relaxed.wood * stock.count as f64);
    over.sum()
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
