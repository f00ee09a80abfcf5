//! Closes the gap: lists the patterns a better plan could have, and finds the best plan of them.

use super::super::master::{Columns, Relaxed};
use super::super::near::Near;
use super::super::price::Priced;
use super::super::problem::Problem;
use super::super::state::State;
use super::{CLOSED, NODES, Search};

/// Shares of the gap to list patterns for, one after the other.
const SHARES: [f64; 3] = [0.25, 0.5, 1.0];
/// More patterns than this near the bound are not given to the whole-number program.
const MOST_NEAR: usize = 40_000;

impl Search<'_, '_> {
    /// Closes the gap from below: lists all patterns that fall short of their price by less than
    /// so much, and finds the best plan made of them; then the same with more.
    ///
    /// A plan costs at least the bound plus, for each of its patterns, what that pattern falls
    /// short of its price. So a plan with a pattern left off the list costs at least the bound
    /// plus as much as the list goes to.
    pub(super) fn close_gap(&mut self, relaxed: &Relaxed) {
        let base = base(self.problem, relaxed);
        let mut over = 0.0;
        for share in SHARES {
            let reach = (self.cost - base + over) * share + CLOSED;
            if self.closed() || self.stopped() {
                return;
            }
            let Some(more) = self.reach(relaxed, base, reach) else {
                return;
            };
            over = more;
        }
    }

    /// The best plan of the patterns that fall short by less than `reach`; nothing when there are
    /// too many. A plan of patterns none of which falls short costs `base`, less what is returned:
    /// what patterns only hoped for may add to the worth of every board.
    pub(super) fn reach(&mut self, relaxed: &Relaxed, base: f64, reach: f64) -> Option<f64> {
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
            return None;
        }
        let stop = self.stop();
        let unmade = self.unmade_costs();
        let relaxation = self.relaxation.with_unmade(unmade);
        let search = Near::new(self.problem, &near, unsure, relaxation, self.beat(), &stop);
        let outcome = search.search(self.bound);
        if let Some(found) = outcome.found {
            self.offer(State::of(self.problem, near.pick(self.problem, &found)));
        }
        let over = over(self.problem, relaxed, &priced);
        self.raise_bound(outcome.bound.min(base - over + reach));
        Some(over)
    }
}

/// Cost of a plan that uses every board at its price and has only patterns worth theirs.
pub(super) fn base(problem: &Problem, relaxed: &Relaxed) -> f64 {
    let boards = relaxed.prices.board.iter().zip(&problem.stock);
    let places: f64 = boards
        .map(|(place, stock)| place * stock.count as f64)
        .sum();
    relaxed.fixed + places
}

/// Most that patterns worth more than their price bring a plan below its base: the relaxation
/// knows none, but for rounding, other than those only hoped for.
fn over(problem: &Problem, relaxed: &Relaxed, priced: &[Priced]) -> f64 {
    let boards = priced.iter().zip(&problem.stock);
    let over = boards.map(|(p, stock)| p.upper.max(0.0) * relaxed.wood * stock.count as f64);
    over.sum()
}
