//! Plans of fewer boards, where the cost comes in whole boards.

use super::super::fewer::{self, Task, pack};
use super::super::state::State;
use super::Search;

/// Rounds for each set of boards, over the square of the number of fronts, and at most: a round
/// looks for places on all boards for some of the fronts.
const ROUNDS: usize = 250_000_000;
const MOST_ROUNDS: usize = 150_000;
/// Jobs of more fronts are left to the prices.
const MOST: usize = 300;
/// Sets of boards tried from one plan.
const TRIED: usize = 4;

impl Search<'_, '_> {
    /// Packs the fronts into sets of boards that cost less than the best plan's, as long as that works.
    pub(super) fn fewer_boards(&mut self, seed: u64) {
        if self.problem.chain.len() > MOST || !fewer::knows(self.problem) {
            return;
        }
        let Some(items) = self.one_by_one() else {
            return;
        };
        let rounds = (ROUNDS / items.len().pow(2)).min(MOST_ROUNDS);
        let stop = self.stop();
        while !self.closed() && !self.stopped() {
            let found = self.cheaper().into_iter().find_map(|boards| {
                let task = Task {
                    problem: self.problem,
                    items: items.clone(),
                    boards,
                };
                pack(&task, &self.costs, seed, rounds, &stop)
            });
            let Some(found) = found else {
                return;
            };
            let before = self.cost;
            self.offer(State::of(self.problem, found));
            if self.cost >= before {
                return;
            }
        }
    }

    /// Every front as an item of its own; nothing if some front cannot be made so.
    fn one_by_one(&self) -> Option<Vec<usize>> {
        let problem = self.problem;
        let alone = |row: usize| {
            let item = problem.starts[row].start;
            let fits = problem.stock.iter().any(|stock| stock.widest[item] > 0);
            fits.then_some(item)
        };
        (0..problem.chain.len()).map(alone).collect()
    }

    /// Sets of boards a step cheaper than those of the best plan, the dearest first: one board less,
    /// or one of a cheaper kind instead. Never cheaper than the bound.
    fn cheaper(&self) -> Vec<Vec<usize>> {
        let problem = self.problem;
        let whole = |stock: usize| problem.stock[stock].whole;
        let mut boards: Vec<usize> = self.best.boards.iter().map(|board| board.stock).collect();
        boards.sort_unstable();
        let mut kinds = boards.clone();
        kinds.dedup();
        let mut sets: Vec<(f64, Vec<usize>)> = Vec::new();
        for &kind in &kinds {
            let mut fewer = boards.clone();
            fewer.remove(boards.partition_point(|&board| board < kind));
            let cost = self.cost - whole(kind);
            sets.push((cost, fewer.clone()));
            for (other, &left) in self.best.left.iter().enumerate() {
                if left > 0 && whole(other) < whole(kind) {
                    let swapped = [fewer.clone(), vec![other]].concat();
                    sets.push((cost + whole(other), swapped));
                }
            }
        }
        sets.retain(|(cost, boards)| *cost > self.bound - 1e-9 && !boards.is_empty());
        sets.sort_by(|a, b| b.0.total_cmp(&a.0));
        sets.truncate(TRIED);
        sets.into_iter().map(|(_, boards)| boards).collect()
    }
}
