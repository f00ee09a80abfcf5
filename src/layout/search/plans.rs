//! Plans: first ones, those that follow the relaxation, and combinations of patterns met.

use rayon::prelude::*;

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::rounding;
use crate::layout::heuristics::ruin::Ruin;
use crate::layout::heuristics::state::State;
use crate::layout::master::columns::Columns;
use crate::layout::master::solved::{Relaxed, Solved};
use crate::layout::master::whole::choose;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::search::dual_point::base;
use crate::layout::search::list::list_search::ListSearch;
use crate::layout::search::optimiser::Optimiser;
use crate::layout::search::pricer::{Stop, ample};

/// Rounds of ruin and recreate, and for jobs of more than this many fronts.
const ROUNDS: u32 = 400;
const FEW_ROUNDS: u32 = 60;
const MANY: usize = 300;
/// Plans made to follow the relaxation's solution, and how many side by side.
pub(in crate::layout) const ROUNDINGS: usize = 16;
pub(in crate::layout) const ROUNDED: usize = 4;
/// Batches of parts looked at to combine the patterns met, before all are listed: at most, and for each
/// second set for the search.
const COMBINING: usize = 8;
const EACH_SECOND: f64 = 0.25;

impl<'p, 'a> Optimiser<'p, 'a> {
    /// Ruin and recreate; every pattern met on the way is worth remembering.
    pub(in crate::layout) fn first_plans(&mut self, seed: u64) {
        let costs = std::mem::take(&mut self.costs);
        let mut ruin = self.first_plan(&costs, seed);
        self.offer(ruin.best.clone());
        let rounds = if self.problem.chain.len() > MANY || self.known.is_some() {
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
        self.within_tone(seed);
    }

    /// Every run put where it costs least; or the plan of a search of nearly the same job, as far as it can be
    /// cut here, and its columns with it.
    fn first_plan<'c>(&mut self, costs: &'c Costs, seed: u64) -> Ruin<'c, 'a>
    where
        'p: 'c,
    {
        let Some(known) = self.known else {
            return Ruin::new(self.problem, costs, seed);
        };
        for column in known.columns(self.problem, costs) {
            self.columns.add(self.problem, &column);
        }
        let plan = known.plan(self.problem, costs);
        Ruin::from(self.problem, costs, plan, seed)
    }

    /// The columns that a plan as good as the best may have at these prices, or one not much dearer.
    pub(in crate::layout) fn near(&self, relaxed: &Relaxed) -> Vec<Pattern> {
        let gap = (self.aim() - base(self.problem, relaxed)).max(ample(self.cost));
        self.within(relaxed, gap)
    }

    /// Where no plan met keeps to the limit on tone: plans of the boards of each stretch of tones
    /// within it. Fronts none of them makes are left unmade.
    fn within_tone(&mut self, seed: u64) {
        let Some(within) = self.problem.limits.tone_within else {
            return;
        };
        let tones = &self.problem.tones;
        for palest in tones {
            if self.incumbent.penalty(self.problem) == 0.0 || self.stopped() {
                return;
            }
            let mut part = self.problem.clone();
            for stock in &mut part.stock {
                let tone = tones[stock.tone];
                if tone < *palest || tone > palest + within {
                    stock.widest.fill(0);
                }
            }
            let costs = std::mem::take(&mut self.costs);
            let mut ruin = Ruin::new(&part, &costs, seed);
            for _ in 0..FEW_ROUNDS {
                ruin.round(1.0);
            }
            let found = ruin.best.clone();
            self.costs = costs;
            self.offer(found);
        }
    }

    /// Plans that follow the relaxation's solution, side by side.
    pub(in crate::layout) fn round(&mut self, solved: &Solved, seed: u64) {
        if self.problem.chain.len() > MANY {
            return;
        }
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

    /// The best plan of the given patterns; true when there is none cheaper.
    pub(in crate::layout) fn choose_from(&mut self, columns: &Columns, share: f64) -> bool {
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

    /// The columns of a reduced cost below `gap`.
    fn within(&self, relaxed: &Relaxed, gap: f64) -> Vec<Pattern> {
        let prices = relaxed.prices.per_wood(relaxed.wood);
        let reduced_cost = |pattern: &Pattern| -prices.value(self.problem, pattern) * relaxed.wood;
        let within = (self.columns.patterns()).filter(|pattern| reduced_cost(pattern) < gap);
        within.cloned().collect()
    }

    /// A plan of the patterns met so far that beats the best, as far as a short search finds one.
    pub(in crate::layout) fn combined(&self, relaxed: &Relaxed) -> Option<State> {
        let gap = self.aim() - base(self.problem, relaxed);
        let mut met = Columns::default();
        for pattern in self.within(relaxed, gap) {
            met.add(self.problem, &pattern);
        }
        let stop = self.stop();
        let relaxation = self.relaxation.with_unmade(self.unmade_costs());
        let search = ListSearch::new(self.problem, &met, 0, relaxation, self.beat(), &stop);
        let set = self.time.map(|time| time.as_secs_f64() * EACH_SECOND);
        let batches = set.map_or(COMBINING, |most| (most.ceil() as usize).min(COMBINING));
        let found = search.at_most(batches).search(self.bound, relaxed).found?;
        Some(State::of(self.problem, met.pick(self.problem, &found)))
    }
}

/// So `many` plans that follow the relaxation's solution over `columns`.
pub(in crate::layout) fn following(
    (problem, costs): (&Problem, &Costs),
    columns: &Columns,
    solved: &Solved,
    (many, seed): (usize, u64),
    stop: &Stop,
) -> Vec<State> {
    let seeds = (1..=many).map(|one| seed.wrapping_add(one as u64));
    let going = seeds.take_while(|_| !stop());
    going
        .map(|seed| rounding::round(problem, costs, columns, solved, seed))
        .collect()
}
