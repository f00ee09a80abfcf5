//! Column generation: prices for every front, and the bound that follows from them.

use super::super::master::{Extra, Relaxed, Solved};
use super::super::price::Priced;
use super::super::problem::Problem;
use super::{CLOSED, NODES, ROUND, Search};

/// Share of the best prices so far in those asked at.
const CALM: f64 = 0.5;
/// How exactly the relaxation is solved, at first and at last.
const PRECISION: [f64; 2] = [1e-2, 1e-8];
/// Share of the open gap the relaxation may be off by.
const PRECISE: f64 = 0.1;

impl Search<'_, '_> {
    /// Column generation: the relaxation over all patterns, or nothing when stopped before.
    pub(super) fn price_out(&mut self) -> Option<Solved> {
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
            let best = calm.as_ref().map_or(f64::NEG_INFINITY, |(best, _)| *best);
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

    pub(super) fn add_found(&mut self, priced: &[Priced]) -> usize {
        let found = priced.iter().flat_map(|p| &p.found).filter(|v| v.sure);
        found
            .filter(|v| self.columns.add(self.problem, &v.pattern))
            .count()
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
