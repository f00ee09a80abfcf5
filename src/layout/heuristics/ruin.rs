//! Ruin and recreate: takes some of a plan apart and puts it back a cheaper way.
//!
//! Schrimpf et al. (2000), Record breaking optimization results using the ruin and recreate
//! principle, J. Comput. Phys. 159: accept what is not much worse than the best so far.

use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::insert::insert_rows;
use crate::layout::heuristics::state::State;
use crate::layout::model::problem::Problem;

/// A search that can go on for as many rounds as wanted.
pub(in crate::layout) struct Ruin<'p, 'a> {
    problem: &'p Problem<'a>,
    costs: &'p Costs,
    rng: Pcg64,
    pub(in crate::layout) now: State,
    now_cost: f64,
    pub(in crate::layout) best: State,
    pub(in crate::layout) best_cost: f64,
}

impl<'p, 'a> Ruin<'p, 'a> {
    /// Starts from every run put on the boards in turn, the run that needs most wood first.
    pub(in crate::layout) fn new(
        problem: &'p Problem<'a>,
        costs: &'p Costs,
        seed: u64,
    ) -> Ruin<'p, 'a> {
        let mut state = State::new(problem);
        let mut runs: Vec<usize> = (0..problem.runs.len()).collect();
        let need = |&run: &usize| -> i64 {
            let rows = problem.runs[run].clone();
            let whole = |row: usize| problem.items[problem.starts[row].start].clone();
            rows.map(whole)
                .map(|i| i.length / 1000 * (i.width / 1000))
                .sum()
        };
        runs.sort_by_key(|run| std::cmp::Reverse(need(run)));
        for run in runs {
            let rows = problem.runs[run].clone();
            insert_rows(problem, costs, &mut state, rows.start, rows.end);
        }
        Ruin::from(problem, costs, state, seed)
    }

    /// Starts from part of a plan; the rest is put where it costs least.
    pub(in crate::layout) fn from(
        problem: &'p Problem<'a>,
        costs: &'p Costs,
        mut state: State,
        seed: u64,
    ) -> Ruin<'p, 'a> {
        for (from, to) in segments(problem, &state) {
            insert_rows(problem, costs, &mut state, from, to);
        }
        let cost = state.cost(problem);
        Ruin {
            problem,
            costs,
            rng: Pcg64::seed_from_u64(seed),
            best: state.clone(),
            best_cost: cost,
            now: state,
            now_cost: cost,
        }
    }

    /// Puts so many copies of a board kind more on hand.
    pub(in crate::layout) fn supply(&mut self, stock: usize, copies: usize) {
        self.now.left[stock] += copies;
        self.best.left[stock] += copies;
    }

    /// One round; true when the best plan improved. `heat` is how much worse than the best, in
    /// cost, a plan may be to go on from.
    pub(in crate::layout) fn round(&mut self, heat: f64) -> bool {
        let mut next = self.now.clone();
        self.ruin(&mut next);
        self.recreate(&mut next);
        self.offer(next, heat)
    }

    /// Goes on from `next` unless it is dearer than the best by more than `heat`; true when it is
    /// the best plan now.
    pub(in crate::layout) fn offer(&mut self, next: State, heat: f64) -> bool {
        let cost = next.cost(self.problem);
        if cost < self.now_cost + 1e-9 || cost < self.best_cost + heat {
            (self.now, self.now_cost) = (next, cost);
        }
        if self.now_cost < self.best_cost - 1e-9 {
            (self.best, self.best_cost) = (self.now.clone(), self.now_cost);
            return true;
        }
        false
    }

    fn ruin(&mut self, state: &mut State) {
        match self.rng.random_range(0..10) {
            0..4 => self.ruin_boards(state),
            4..8 => self.ruin_runs(state),
            _ => self.ruin_items(state),
        }
    }

    /// Clears one to three boards.
    fn ruin_boards(&mut self, state: &mut State) {
        for _ in 0..self.rng.random_range(1..=3) {
            if !state.boards.is_empty() {
                let board = self.rng.random_range(0..state.boards.len());
                state.remove_board(self.problem, self.costs, board);
            }
        }
    }

    /// Takes one or two whole runs off, and now and then the boards they lay on.
    fn ruin_runs(&mut self, state: &mut State) {
        let boards_too = self.rng.random_bool(0.5);
        for _ in 0..self.rng.random_range(1..=2) {
            let run = self.rng.random_range(0..self.problem.runs.len());
            let of_run = |item: &usize| self.problem.items[*item].run == run;
            while let Some((board, item)) = state
                .boards
                .iter()
                .enumerate()
                .find_map(|(b, pattern)| Some((b, pattern.items().find(of_run)?)))
            {
                if boards_too {
                    state.remove_board(self.problem, self.costs, board);
                } else {
                    state.remove_item(self.problem, self.costs, item);
                }
            }
        }
    }

    /// Takes a few stretches off.
    fn ruin_items(&mut self, state: &mut State) {
        for _ in 0..self.rng.random_range(1..=4) {
            if state.boards.is_empty() {
                return;
            }
            let board = self.rng.random_range(0..state.boards.len());
            let items: Vec<usize> = state.boards[board].items().collect();
            let item = items[self.rng.random_range(0..items.len())];
            state.remove_item(self.problem, self.costs, item);
        }
    }

    /// Puts everything uncovered back, in random order with a liking for long segments.
    fn recreate(&mut self, state: &mut State) {
        let mut segments = segments(self.problem, state);
        segments.shuffle(&mut self.rng);
        if self.rng.random_bool(0.6) {
            segments.sort_by_key(|&(from, to)| std::cmp::Reverse(to - from));
        }
        for (from, to) in segments {
            insert_rows(self.problem, self.costs, state, from, to);
        }
    }
}

/// Maximal stretches of neighbours not yet cut.
fn segments(problem: &Problem, state: &State) -> Vec<(usize, usize)> {
    let mut segments = Vec::new();
    for run in &problem.runs {
        let mut from = None;
        for row in run.clone() {
            match (state.covered[row], from) {
                (false, None) => from = Some(row),
                (true, Some(first)) => {
                    segments.push((first, row));
                    from = None;
                }
                _ => {}
            }
        }
        if let Some(first) = from {
            segments.push((first, run.end));
        }
    }
    segments
}
