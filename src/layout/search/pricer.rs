//! Pricing over all boards: column generation, the bound that follows, and lists of patterns.

use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use super::super::master::{Columns, Relaxation, Relaxed, Solved};
use super::super::near::{Beat, Near};
use super::super::pattern::{Costs, Pattern};
use super::super::price::{Limit, Priced, price};
use super::super::problem::Problem;
use super::super::sisters::Sisters;
use super::CLOSED;

/// Half-made patterns looked at for each board, at first and at most.
const NODES: usize = 20_000;
pub(super) const MOST_NODES: usize = 50_000_000;
/// How many times as many for a part of the plans that seems to be beaten.
const LONGER: usize = 16;
/// Patterns taken for each board in one round of pricing.
const ROUND: usize = 12;
/// Share of the best prices so far in those asked at, at least.
const CALM: f64 = 0.5;
/// How exactly the relaxation is solved, at first and at last.
const PRECISION: [f64; 2] = [1e-2, 1e-8];
/// Share of the open gap the relaxation may be off by.
const PRECISE: f64 = 0.1;

/// Tells whether to stop.
pub(super) type Stop<'s> = dyn Fn() -> bool + Sync + 's;

/// Prices the boards of a job, or of a part of its plans.
pub(super) struct Pricer<'s, 'a> {
    pub(super) problem: &'s Problem<'a>,
    pub(super) costs: &'s Costs,
    pub(super) stop: &'s Stop<'s>,
    /// Half-made patterns looked at for each board at most in column generation.
    pub(super) nodes: usize,
    /// A bound this high is enough: prices need not go further.
    pub(super) enough: f64,
}

/// How far a list of patterns may go.
#[derive(Clone, Copy)]
pub(super) struct Effort {
    /// Half-made patterns looked at for each board.
    pub(super) nodes: usize,
    /// Patterns listed.
    pub(super) patterns: usize,
    /// Batches of parts of the list looked at.
    pub(super) batches: usize,
}

/// As far as a list goes at most, where plans cannot be split any further.
pub(super) const LONG: Effort = Effort {
    nodes: MOST_NODES,
    patterns: 40_000,
    batches: usize::MAX,
};

/// What came of listing the patterns near their price.
pub(super) struct Listed {
    /// A plan that beats the best known, if there is one among them.
    pub(super) plan: Option<Vec<Pattern>>,
    /// No plan that beats it costs less.
    pub(super) bound: f64,
    /// What patterns only hoped for may add to the worth of every board.
    pub(super) over: f64,
}

impl Pricer<'_, '_> {
    /// Prices every board: the best patterns worth `least` or, where that is less than nothing, all
    /// of them. A list with one board left out is of no use: then the others are given up too.
    fn all(&self, relaxed: &Relaxed, least: f64, nodes: usize, found: usize) -> Vec<Priced> {
        let failed = AtomicBool::new(false);
        let listing = least < 0.0;
        let stop = || (self.stop)() || (listing && failed.load(Ordering::Relaxed));
        let limit = Limit {
            nodes,
            found,
            best_only: !listing,
            stop: &stop,
        };
        let prices = relaxed.prices.per_wood(relaxed.wood);
        let sisters = Sisters::of(self.problem);
        let least = least / relaxed.wood;
        (0..self.problem.stock.len())
            .into_par_iter()
            .map(|stock| {
                let priced = price(
                    (self.problem, &sisters),
                    self.costs,
                    &prices,
                    stock,
                    least,
                    &limit,
                );
                failed.fetch_or(!priced.complete, Ordering::Relaxed);
                priced
            })
            .collect()
    }

    /// Column generation: the relaxation over all patterns, or nothing when stopped before. `known`
    /// are good prices, if there are any; `raise` is told every bound, with the cost of the relaxation
    /// over the patterns known, and says whether it will do.
    pub(super) fn generate(
        &self,
        columns: &mut Columns,
        relaxation: &mut Relaxation,
        known: Option<Relaxed>,
        raise: &mut dyn FnMut(f64, f64) -> bool,
    ) -> Option<Solved> {
        let mut nodes = NODES;
        let mut calm = known.map(|known| {
            let priced = self.all(&known, CLOSED, nodes, ROUND);
            self.add_found(columns, &priced);
            let bound = lagrange(self.problem, &known, &priced);
            raise(bound, f64::INFINITY);
            (bound, known)
        });
        // Prices swing wildly while few patterns are known: those asked at lie between the
        // relaxation's own and the best so far, as long as that finds something.
        let mut precision = PRECISION[0];
        loop {
            if (self.stop)() {
                return None;
            }
            let all = columns.all();
            let solved = relaxation.solve_sided(self.problem, &all, precision)?;
            let relaxed = &solved.relaxed;
            let mut added = 0;
            let mut priced = Vec::new();
            if let Some((best, calmer)) = &calm {
                let between = relaxed.between(calmer, self.calm(relaxed, calmer));
                priced = self.all(&between, CLOSED, nodes, ROUND);
                added = self.add_found(columns, &priced);
                let bound = lagrange(self.problem, &between, &priced);
                if bound > *best {
                    calm = Some((bound, between));
                }
            }
            if added == 0 {
                priced = self.all(relaxed, CLOSED, nodes, ROUND);
                added = self.add_found(columns, &priced);
                let bound = lagrange(self.problem, relaxed, &priced);
                if calm.as_ref().is_none_or(|(best, _)| bound > *best) {
                    calm = Some((bound, relaxed.clone()));
                }
            }
            // A board looked at in part holds the bound down more than a few dear prices.
            let complete = priced.iter().all(|p| p.complete);
            let most = self.most_nodes(relaxed.cost);
            let tired = !complete && nodes >= most;
            if !complete {
                nodes = (nodes * 2).min(most);
            }
            let best = calm.as_ref().map_or(f64::NEG_INFINITY, |(best, _)| *best);
            // Without tone rows still to come the relaxation is too cheap to compare with.
            let comes_to = if relaxed.tight {
                relaxed.cost
            } else {
                f64::INFINITY
            };
            let will_do = raise(best, comes_to);
            let rough = precision;
            let scale = relaxed.cost.abs().max(1.0);
            let open = (relaxed.cost - best) / scale;
            precision = precision
                .min(open * PRECISE)
                .clamp(PRECISION[1], PRECISION[0]);
            if added == 0 && relaxed.tight {
                precision = (precision * PRECISE).max(PRECISION[1]);
            }
            if will_do || (tired && added == 0) {
                return Some(solved);
            }
            if !relaxed.tight || (rough > PRECISION[1] && (added > 0 || precision < rough)) {
                continue;
            }
            let converged = relaxed.cost - best < CLOSED * scale;
            let mut insists =
                || relaxed.cost < self.enough && relaxation.insist(self.problem, relaxed);
            if converged && !insists() {
                return Some(solved);
            }
            if added == 0 && !insists() {
                if complete {
                    return Some(solved);
                }
                nodes = (nodes * 10).min(most);
            }
        }
    }

    /// Half-made patterns looked at for each board at most, where the relaxation over the patterns known
    /// comes to `cost`: a part that seems to be beaten is worth more of them than one to be split.
    fn most_nodes(&self, cost: f64) -> usize {
        let times = if cost > self.enough { LONGER } else { 1 };
        (self.nodes * times).min(MOST_NODES)
    }

    /// Share of the best prices so far in those asked at: more than usual where the relaxation's own
    /// go further than enough. The dearer they are, the longer they take.
    fn calm(&self, relaxed: &Relaxed, calmer: &Relaxed) -> f64 {
        let (high, low) = (base(self.problem, relaxed), base(self.problem, calmer));
        if high <= self.enough || low >= self.enough {
            return CALM;
        }
        ((high - self.enough) / (high - low)).max(CALM)
    }

    fn add_found(&self, columns: &mut Columns, priced: &[Priced]) -> usize {
        let found = priced.iter().flat_map(|p| &p.found).filter(|v| v.sure);
        found
            .filter(|v| columns.add(self.problem, &v.pattern))
            .count()
    }

    /// The best plan of the patterns that fall short of their price by less than `reach`, where a
    /// plan of patterns at their price costs `base`; nothing when there are too many.
    ///
    /// A plan costs at least the base plus, for each of its patterns, what that pattern falls
    /// short of its price. So a plan with a pattern left off the list costs at least the base
    /// plus as much as the list goes to, less what patterns only hoped for may add.
    pub(super) fn list(
        &self,
        relaxed: &Relaxed,
        relaxation: Relaxation,
        reach: f64,
        effort: Effort,
        beat: Beat,
        bound: f64,
    ) -> Option<Listed> {
        let priced = self.all(relaxed, -reach, effort.nodes, effort.patterns);
        if !priced.iter().all(|p| p.complete) {
            return None;
        }
        let mut near = Columns::default();
        let mut enter = |sure: bool| {
            let found = priced.iter().flat_map(|p| &p.found);
            for valued in found.filter(|v| v.sure == sure) {
                near.add(self.problem, &valued.pattern);
                if near.len() > effort.patterns {
                    return None;
                }
            }
            Some(near.len())
        };
        // Where the best arrangement is not sure, the hoped-for one stands in for it.
        let unsure = enter(false)?;
        enter(true)?;
        let over = over(self.problem, relaxed, &priced);
        let search = Near::new(self.problem, &near, unsure, relaxation, beat, &self.stop);
        let outcome = search.at_most(effort.batches).search(bound);
        let end = base(self.problem, relaxed) - over + reach;
        Some(Listed {
            plan: outcome.found.map(|found| near.pick(self.problem, &found)),
            bound: outcome.bound.min(end),
            over,
        })
    }
}

/// Weak duality: the fixed part less the most that the boards of a plan can be worth.
fn lagrange(problem: &Problem, relaxed: &Relaxed, priced: &[Priced]) -> f64 {
    let places = priced.iter().zip(&relaxed.prices.board);
    let worth = places.map(|(p, place)| p.upper * relaxed.wood - place);
    relaxed.fixed - most_together(problem, worth.collect())
}

/// Most that the boards of a plan are worth together where one of each kind is worth at most `worth`.
fn most_together(problem: &Problem, worth: Vec<f64>) -> f64 {
    let mut kinds: Vec<(f64, usize)> = (worth.into_iter())
        .zip(problem.stock.iter().map(|stock| stock.count))
        .filter(|(worth, _)| *worth > 0.0)
        .collect();
    kinds.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut left = problem.most_boards();
    let mut take = |count: usize| {
        let taken = count.min(left);
        left -= taken;
        taken as f64
    };
    kinds
        .iter()
        .map(|(worth, count)| worth * take(*count))
        .sum()
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
    let worth = priced.iter().map(|p| p.upper * relaxed.wood);
    most_together(problem, worth.collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::generate::{Size, generate};

    #[test]
    fn no_more_boards_count_than_a_plan_may_use() {
        let size = Size {
            fronts: 3,
            runs: 3,
            boards: 2,
        };
        let mut job = generate(size, 1);
        job.boards[0].copies = (1..=200).collect();
        let problem = Problem::new(&job, false);
        let most = problem.most_boards();
        assert!((3..20).contains(&most), "{most}");
        assert_eq!(problem.stock[0].count, most);
        // The dearer board first, of which there is one, then the other.
        let rest = (most - 1) as f64;
        assert_eq!(most_together(&problem, vec![2.0, 5.0]), 5.0 + 2.0 * rest);
        assert_eq!(most_together(&problem, vec![2.0, -5.0]), 2.0 + 2.0 * rest);
        assert_eq!(most_together(&problem, vec![-2.0, -5.0]), 0.0);
    }
}
