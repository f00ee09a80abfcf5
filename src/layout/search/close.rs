//! Closes the gap from below at the prices of the whole job.

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::state::State;
use crate::layout::master::solved::Relaxed;
use crate::layout::search::dual_point::base;
use crate::layout::search::listing::{LONG, ListLimit, Surplus};
use crate::layout::search::optimiser::Optimiser;
use crate::layout::search::tolerance::CLOSED;

/// Shares of the gap to list patterns for, one after the other.
const SHARES: [f64; 3] = [0.25, 0.5, 1.0];
/// How far a list goes where all plans can be split instead.
const SHORT: ListLimit = ListLimit {
    nodes: 1_000_000,
    patterns: 20_000,
    batches: 400,
};

impl Optimiser<'_, '_> {
    /// Lists all patterns that fall short of their price by less than a share of the gap, and finds
    /// the best plan made of them; then the same with more, as long as they are not too many.
    pub(in crate::layout) fn close_gap(&mut self, relaxed: &Relaxed) {
        let base = base(self.problem, relaxed);
        let mut surplus = Surplus::default();
        for share in SHARES {
            let reach = (self.aim() - base) * share + CLOSED;
            if self.closed() || self.stopped() {
                return;
            }
            let Some(more) = self.reach(relaxed, (reach, &surplus), LONG) else {
                return;
            };
            surplus = more;
        }
    }

    /// Where plans can be split instead: a short list of all patterns within the gap, and beside it the
    /// best plan of the patterns met.
    pub(in crate::layout) fn combine_and_close(&mut self, relaxed: &Relaxed) {
        if self.closed() || self.stopped() {
            return;
        }
        let reach = self.aim() - base(self.problem, relaxed) + CLOSED;
        let costs = std::mem::take(&mut self.costs);
        let surplus = Surplus::default();
        let (met, listed) = rayon::join(
            || self.combined(relaxed),
            || self.listed(&costs, relaxed, (reach, &surplus), SHORT),
        );
        self.costs = costs;
        met.into_iter().for_each(|plan| self.offer(plan));
        self.learn(listed);
    }

    /// The best plan of the patterns that fall short by less than `reach`; nothing when there are
    /// too many.
    fn reach(
        &mut self,
        relaxed: &Relaxed,
        reach: (f64, &Surplus),
        limit: ListLimit,
    ) -> Option<Surplus> {
        let costs = std::mem::take(&mut self.costs);
        let listed = self.listed(&costs, relaxed, reach, limit);
        self.costs = costs;
        self.learn(listed)
    }

    /// Takes over what came of a list.
    fn learn(&mut self, listed: Option<(Option<State>, f64, Surplus)>) -> Option<Surplus> {
        let (plan, bound, surplus) = listed?;
        if let Some(plan) = plan {
            self.offer(plan);
        }
        self.raise_bound(bound);
        Some(surplus)
    }

    fn listed(
        &self,
        costs: &Costs,
        relaxed: &Relaxed,
        reach: (f64, &Surplus),
        limit: ListLimit,
    ) -> Option<(Option<State>, f64, Surplus)> {
        let stop = self.stop();
        let relaxation = self.relaxation.with_unmade(self.unmade_costs());
        let pricer = self.pricer(costs, &stop);
        let listed = pricer.list(relaxed, relaxation, reach, limit, self.beat(), self.bound)?;
        let plan = listed.plan.map(|plan| State::of(self.problem, plan));
        Some((plan, listed.bound, listed.surplus))
    }
}
