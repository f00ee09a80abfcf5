//! Pricing over all boards: column generation, stabilised.
//!
//! Prices asked at lie between the restricted master's duals and the best point so far, the *center* (smoothing
//! as in Wentges, *Weighted Dantzig-Wolfe decomposition for linear mixed-integer programming*, Int. Trans. Oper.
//! Res. 4, 1997): duals by themselves swing wildly while few columns are known.

use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use crate::layout::geometry::costs::Costs;
use crate::layout::master::columns::Columns;
use crate::layout::master::relax::Relaxation;
use crate::layout::master::solved::{Relaxed, Solved};
use crate::layout::model::completion::Completion;
use crate::layout::model::problem::Problem;
use crate::layout::pricing::board::price;
use crate::layout::pricing::priced::{Limit, Priced};
use crate::layout::search::dual_point::{DualPoint, base};
use crate::layout::search::tolerance::CLOSED;

/// Half-made patterns looked at for each board at first, where all plans are priced and where a part is, and
/// at most.
const NODES: [usize; 2] = [20_000, 80_000];
pub(in crate::layout) const MOST_NODES: usize = 50_000_000;
/// Half-made patterns remembered for each board.
const REMEMBERED: usize = 100_000;
/// How many times as many for a part of the plans that seems to be beaten.
const LONGER: usize = 16;
/// Patterns taken for each board in one round of pricing.
const ROUND: usize = 12;
/// Share of the best prices so far in those asked at, at least.
const SMOOTHING: f64 = 0.5;
/// Where the best prices so far bound the relaxation to within this share, its own are asked at straight away.
const NEAR: f64 = 1e-3;
/// How exactly the relaxation is solved, at first and at last.
const PRECISION: [f64; 2] = [1e-2, 1e-8];
/// Share of the open gap the relaxation may be off by.
const PRECISE: f64 = 0.1;

/// How far over the cost to beat prices go, as a share of it: what boards are worth more than their
/// prices comes off it.
const AMPLE: f64 = 0.01;

/// Share of what prices go over the cost to beat that a board may be worth more than its price.
const SUFFICES: f64 = 0.9;

/// How far over the cost to beat prices go.
pub(in crate::layout) fn ample(cost: f64) -> f64 {
    AMPLE * cost.abs()
}

/// Tells whether to stop.
pub(in crate::layout) type Stop<'s> = dyn Fn() -> bool + Sync + 's;

/// Prices the boards of a job, or of a part of its plans.
pub(in crate::layout) struct Pricer<'s, 'a> {
    pub(in crate::layout) problem: &'s Problem<'a>,
    pub(in crate::layout) costs: &'s Costs,
    pub(in crate::layout) stop: &'s Stop<'s>,
    /// Half-made patterns looked at for each board at most in column generation.
    pub(in crate::layout) nodes: usize,
    /// Cost to beat: a bound as high is enough.
    pub(in crate::layout) beat: f64,
}

impl Pricer<'_, '_> {
    /// The best patterns of every board that are worth more than their price.
    fn all(&self, relaxed: &Relaxed, nodes: usize) -> Vec<Priced> {
        let least = vec![CLOSED; self.problem.stock.len()];
        self.each(relaxed, &least, (nodes, ROUND), false)
    }

    /// Prices every board: the best patterns worth more than its `least` or, when `listing`, all of them. A
    /// list with one board left out is of no use: then the others are given up too.
    pub(in crate::layout) fn each(
        &self,
        relaxed: &Relaxed,
        least: &[f64],
        (nodes, found): (usize, usize),
        listing: bool,
    ) -> Vec<Priced> {
        let failed = AtomicBool::new(false);
        let stop = || (self.stop)() || (listing && failed.load(Ordering::Relaxed));
        // One board at most is hard to price, as a rule: nearly all that may come off goes to it.
        let slack = (base(self.problem, relaxed) - self.beat) * SUFFICES;
        let limit = Limit {
            nodes,
            found,
            remembered: REMEMBERED,
            suffices: (!listing && slack > 0.0).then_some(slack / relaxed.wood),
            best_only: !listing,
            stop: &stop,
        };
        let prices = relaxed.prices.per_wood(relaxed.wood);
        let completion = Completion::of(self.problem);
        (0..self.problem.stock.len())
            .into_par_iter()
            .map(|stock| {
                let priced = price(
                    (self.problem, &completion),
                    self.costs,
                    &prices,
                    stock,
                    least[stock] / relaxed.wood,
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
    pub(in crate::layout) fn generate(
        &self,
        columns: &mut Columns,
        relaxation: &mut Relaxation,
        known: Option<DualPoint>,
        raise: &mut dyn FnMut(f64, f64) -> bool,
    ) -> Option<(Solved, Option<DualPoint>)> {
        // Good prices leave little to look at: it may as well be looked at to the end.
        let mut nodes = NODES[usize::from(self.beat.is_finite() || known.is_some())];
        let mut center = known.map(|known| {
            let mut known = known.narrowed(self.problem);
            if !known.complete {
                let priced = self.all(&known.relaxed, nodes);
                self.add_found(columns, &priced);
                let again = DualPoint::new(self.problem, known.relaxed.clone(), &priced);
                if again.bound > known.bound {
                    known = again;
                }
            }
            raise(known.bound, f64::INFINITY);
            known
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
            let near = |center: &DualPoint| {
                relaxed.tight && relaxed.cost - center.bound < NEAR * relaxed.cost.abs()
            };
            if let Some(stable) = center.as_ref().filter(|center| !near(center)) {
                let between =
                    relaxed.between(&stable.relaxed, self.smoothing(relaxed, &stable.relaxed));
                priced = self.all(&between, nodes);
                added = self.add_found(columns, &priced);
                let dual_point = DualPoint::new(self.problem, between, &priced);
                if dual_point.bound > stable.bound {
                    center = Some(dual_point);
                }
            }
            if added == 0 {
                priced = self.all(relaxed, nodes);
                added = self.add_found(columns, &priced);
                let dual_point = DualPoint::new(self.problem, relaxed.clone(), &priced);
                if center
                    .as_ref()
                    .is_none_or(|center| dual_point.bound > center.bound)
                {
                    center = Some(dual_point);
                }
            }
            // A board looked at in part holds the bound down more than a few dear prices.
            let complete = priced.iter().all(|p| p.complete);
            let most = self.most_nodes(relaxed.cost);
            let tired = !complete && nodes >= most;
            if !complete {
                nodes = (nodes * 2).min(most);
            }
            let best = center
                .as_ref()
                .map_or(f64::NEG_INFINITY, |center| center.bound);
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
                return Some((solved, center));
            }
            if !relaxed.tight || (rough > PRECISION[1] && (added > 0 || precision < rough)) {
                continue;
            }
            let converged = relaxed.cost - best < CLOSED * scale;
            let mut raised = || {
                relaxed.cost < self.enough() && relaxation.raise_unmade_costs(self.problem, relaxed)
            };
            if converged && !raised() {
                return Some((solved, center));
            }
            if added == 0 && !raised() {
                if complete {
                    return Some((solved, center));
                }
                nodes = (nodes * 10).min(most);
            }
        }
    }

    /// Half-made patterns looked at for each board at most, where the relaxation over the patterns known
    /// comes to `cost`: a part that seems to be beaten is worth more of them than one to be split.
    fn most_nodes(&self, cost: f64) -> usize {
        let times = if cost > self.enough() { LONGER } else { 1 };
        (self.nodes * times).min(MOST_NODES)
    }

    /// Share of the best prices so far in those asked at: more than usual where the relaxation's own
    /// go further than enough. The dearer they are, the longer they take.
    fn smoothing(&self, relaxed: &Relaxed, stable: &Relaxed) -> f64 {
        let (high, low) = (base(self.problem, relaxed), base(self.problem, stable));
        let enough = self.enough();
        if high <= enough || low >= enough {
            return SMOOTHING;
        }
        ((high - enough) / (high - low)).max(SMOOTHING)
    }

    /// How far prices go at most.
    fn enough(&self) -> f64 {
        self.beat + ample(self.beat)
    }

    fn add_found(&self, columns: &mut Columns, priced: &[Priced]) -> usize {
        let found = priced.iter().flat_map(|p| &p.found).filter(|v| v.sure);
        found
            .filter(|v| columns.add(self.problem, &v.pattern))
            .count()
    }
}
