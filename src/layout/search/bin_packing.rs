//! Plans of fewer boards, where the cost comes in whole boards, sought while the job is priced.

use std::sync::atomic::{AtomicU64, Ordering};

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::packing::pack::{knows, pack};
use crate::layout::heuristics::packing::task::Task;
use crate::layout::heuristics::state::State;
use crate::layout::model::problem::Problem;
use crate::layout::search::optimiser::Optimiser;
use crate::layout::search::pricer::Stop;
use crate::layout::search::tolerance::CLOSED;

/// How long packing goes on.
#[derive(Clone, Copy)]
pub(in crate::layout) enum Thoroughness {
    /// As long as is worth trying.
    Full,
    /// A fraction of that.
    Short,
}

/// Rounds for each set of boards, over the square of the number of fronts, and at most: a round
/// looks for places on all boards for some of the fronts.
const ROUNDS: usize = 250_000_000;
const MOST_ROUNDS: usize = 150_000;
/// Of so many, one in a short search.
const SHORT: usize = 16;
/// Jobs of more fronts are left to the prices.
const MOST: usize = 300;
/// Sets of boards tried from one plan.
const TRIED: usize = 4;

/// What packing, with the larger fronts alone, and pricing tell each other. Either stops when the other has
/// made it pointless, which changes no plan: so it does not matter which is faster.
pub(in crate::layout) struct SharedBounds {
    cost: AtomicU64,
    bound: AtomicU64,
}

impl SharedBounds {
    pub(in crate::layout) fn new(cost: f64, bound: f64) -> SharedBounds {
        SharedBounds {
            cost: AtomicU64::new(cost.to_bits()),
            bound: AtomicU64::new(bound.to_bits()),
        }
    }

    /// No plan costs less than `bound`.
    pub(in crate::layout) fn bound(&self, bound: f64) {
        let higher = |known: u64| (bound > f64::from_bits(known)).then(|| bound.to_bits());
        let order = Ordering::Relaxed;
        // Where it is known already there is nothing to tell.
        let _ = self.bound.fetch_update(order, order, higher);
    }

    /// What no plan costs less than, as far as is known.
    pub(in crate::layout) fn least(&self) -> f64 {
        f64::from_bits(self.bound.load(Ordering::Relaxed))
    }

    /// Whether `cost` is less than the best plan's.
    pub(in crate::layout) fn beats(&self, cost: f64) -> bool {
        let best = f64::from_bits(self.cost.load(Ordering::Relaxed));
        best - cost > CLOSED * best.max(1.0)
    }

    /// Whether no plan that costs `cost` can be.
    fn rules_out(&self, cost: f64) -> bool {
        self.least() - cost > CLOSED * cost.max(1.0)
    }

    /// Whether the best plan packed is known to be the best there is.
    pub(in crate::layout) fn closed(&self) -> bool {
        !self.beats(self.least())
    }
}

impl Thoroughness {
    fn rounds(self, fronts: usize) -> usize {
        let full = (ROUNDS / fronts.pow(2)).min(MOST_ROUNDS);
        match self {
            Thoroughness::Full => full,
            Thoroughness::Short => full / SHORT,
        }
    }
}

/// Packs the fronts of a job into fewer and fewer boards.
pub(in crate::layout) struct Packing<'s, 'a> {
    problem: &'s Problem<'a>,
    costs: &'s Costs,
    stop: &'s Stop<'s>,
    shared: &'s SharedBounds,
    items: Vec<usize>,
    pub(in crate::layout) best: State,
    seed: u64,
}

impl<'p, 'a> Optimiser<'p, 'a> {
    /// What there is to pack, where costs come in steps and the best plan makes all fronts.
    pub(in crate::layout) fn packing<'s>(
        &self,
        (costs, stop, shared): (&'s Costs, &'s Stop<'s>, &'s SharedBounds),
        seed: u64,
    ) -> Option<Packing<'s, 'a>>
    where
        'p: 's,
    {
        let steps = self.makes_all_in_steps();
        let best = || self.incumbent.clone();
        let packing = || Packing::new(self.problem, (costs, stop, shared), best(), seed);
        steps.then(packing).flatten()
    }
}

/// Every front that can be made as an item of its own; nothing if some can only be glued.
fn one_by_one(problem: &Problem) -> Option<Vec<usize>> {
    let alone = |row: usize| {
        let item = problem.starts[row].start;
        let fits = problem.stock.iter().any(|stock| stock.widest[item] > 0);
        fits.then_some(item)
    };
    let makable = (0..problem.chain.len()).filter(|&row| !problem.hopeless[row]);
    makable.map(alone).collect()
}

impl<'s, 'a> Packing<'s, 'a> {
    /// From the best plan known, which makes all fronts; nothing where not all that matters can be known.
    pub(in crate::layout) fn new(
        problem: &'s Problem<'a>,
        (costs, stop, shared): (&'s Costs, &'s Stop<'s>, &'s SharedBounds),
        best: State,
        seed: u64,
    ) -> Option<Packing<'s, 'a>> {
        let may = problem.chain.len() <= MOST && knows(problem);
        Some(Packing {
            problem,
            costs,
            stop,
            shared,
            items: may.then(|| one_by_one(problem)).flatten()?,
            best,
            seed,
        })
    }

    /// Packs as long as that comes to cheaper plans.
    pub(in crate::layout) fn pack(&mut self, how: Thoroughness) {
        while let Some(better) = self.better(how) {
            self.best = better;
            let cost = self.best.cost(self.problem);
            self.shared.cost.store(cost.to_bits(), Ordering::Relaxed);
        }
    }

    /// A plan on a set of boards that costs less than the best plan's.
    pub(in crate::layout) fn better(&self, how: Thoroughness) -> Option<State> {
        let rounds = how.rounds(self.items.len());
        let sets = cheaper(self.problem, &self.best);
        let found = sets.into_iter().find_map(|(cost, boards)| {
            let task = Task {
                problem: self.problem,
                items: self.items.clone(),
                boards,
            };
            let stop = || (self.stop)() || self.shared.rules_out(cost);
            pack(&task, self.costs, self.seed, rounds, &stop)
        })?;
        let plan = State::of(self.problem, found);
        (plan.cost(self.problem) < self.best.cost(self.problem) - 1e-9).then_some(plan)
    }
}

/// Sets of boards that cost less than those of the plan, and what they cost, the dearest first: one
/// board less, or one of a cheaper kind instead.
fn cheaper(problem: &Problem, plan: &State) -> Vec<(f64, Vec<usize>)> {
    let whole = |stock: usize| problem.stock[stock].whole;
    let mut boards: Vec<usize> = plan.boards.iter().map(|board| board.stock).collect();
    boards.sort_unstable();
    let mut kinds = boards.clone();
    kinds.dedup();
    let mut sets: Vec<Vec<usize>> = Vec::new();
    for &kind in &kinds {
        let mut fewer = boards.clone();
        fewer.remove(boards.partition_point(|&board| board < kind));
        let others = plan.left.iter().enumerate();
        let others = others.filter(|&(other, &left)| left > 0 && whole(other) < whole(kind));
        sets.extend(others.map(|(other, _)| [&fewer[..], &[other]].concat()));
        sets.push(fewer);
    }
    let cost = |boards: &[usize]| boards.iter().map(|&board| whole(board)).sum();
    let mut sets: Vec<(f64, Vec<usize>)> = sets.into_iter().map(|set| (cost(&set), set)).collect();
    sets.retain(|(_, boards)| !boards.is_empty());
    sets.sort_by(|a, b| b.0.total_cmp(&a.0));
    sets.truncate(TRIED);
    sets
}
