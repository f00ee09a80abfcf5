//! The root of the search: first plans, and prices good for the whole job.

use std::collections::HashMap;

use crate::layout::geometry::costs::Costs;
use crate::layout::master::relax::Relaxation;
use crate::layout::master::solved::Solved;
use crate::layout::model::steps;
use crate::layout::search::bin_packing::SharedBounds;
use crate::layout::search::bin_packing_bound::BinPackingBound;
use crate::layout::search::dual_point::DualPoint;
use crate::layout::search::optimiser::Optimiser;
use crate::layout::search::plans::{ROUNDED, ROUNDINGS, following};
use crate::layout::search::pricer::{MOST_NODES, Pricer, Stop};
use crate::layout::search::tolerance::ENOUGH;
use crate::layout::search::tree::node;

impl<'p, 'a> Optimiser<'p, 'a> {
    /// Raises the bound by prices alone, from the patterns of first plans.
    pub(in crate::layout) fn price_alone(&mut self) {
        self.first_plans(0);
        self.price_out(0, false);
    }

    /// First plans, and prices good for the whole job; nothing when the bound is reached, or time is up.
    /// With packing for fewer boards beside, or without.
    pub(in crate::layout) fn root(
        &mut self,
        seed: u64,
        packing: bool,
    ) -> Option<(Solved, Option<DualPoint>)> {
        self.first_plans(seed);
        if self.makes_all_in_steps() {
            self.raise_bound(steps::blanks_alone(self.problem));
        }
        self.price_out(seed, packing)
    }

    /// Column generation for the whole job, and beside it, with `packing`, packing into fewer boards and what
    /// the larger fronts cost alone.
    fn price_out(&mut self, seed: u64, packing: bool) -> Option<(Solved, Option<DualPoint>)> {
        if self.closed() {
            return None;
        }
        let costs = std::mem::take(&mut self.costs);
        let mut columns = std::mem::take(&mut self.columns);
        let mut relaxation = self.relaxation.clone();
        let stop = self.stop();
        let shared = SharedBounds::new(self.cost, self.bound);
        let packing = packing.then(|| self.packing((&costs, &stop, &shared), seed));
        let packing = packing.flatten();
        let settled = || stop() || shared.closed();
        let bound_by_packing = BinPackingBound {
            problem: self.problem,
            costs: &costs,
            begun: self.begun,
            time: self.time,
            stop: &settled,
            shared: &shared,
            seed,
        };
        let pricer = self.pricer(&costs, &settled);
        let problem = self.problem;
        let until = self.time.map(|time| self.begun + time);
        let sided = self.sided();
        let known = self.known.map(|known| {
            let prices = known.prices(problem);
            relaxation = known.relaxation(problem, &prices).until(until);
            DualPoint::guessed(prices)
        });
        let many = if known.is_some() { ROUNDED } else { ROUNDINGS };
        let mut duals = HashMap::new();
        // Lists of identical fronts ask for prices as they are; where plans are split, each part has its own.
        let enough = if problem.identical.any() { 0.0 } else { ENOUGH };
        let mut raise = |bound: f64, most: f64| {
            self.raise_bound(bound);
            shared.bound(self.bound);
            let near = most - bound < enough * (self.aim() - bound);
            self.closed() || shared.closed() || near
        };
        let (packed, solved) = rayon::join(
            || packing.map(|packing| bound_by_packing.pack(packing)),
            || {
                let (plain, dual_point) =
                    pricer.generate(&mut columns, &mut relaxation, known, &mut raise)?;
                duals.clone_from(&plain.duals);
                if !sided || shared.closed() {
                    return Some((Some((plain, dual_point)), Vec::new()));
                }
                // From its prices on: those of the first rounds would be priced far longer with sides.
                relaxation = relaxation
                    .with_unmade(Relaxation::new(problem).unmade)
                    .sided();
                let (known, all) = (dual_point, columns.clone());
                // Where one board takes long to price, parts of the plans are priced sooner.
                let nodes = if problem.identical.any() {
                    MOST_NODES
                } else {
                    node::NODES
                };
                let pricer = Pricer { nodes, ..pricer };
                Some(rayon::join(
                    || pricer.generate(&mut columns, &mut relaxation, known, &mut raise),
                    || following((problem, &costs), &all, &plain, (many, seed), &stop),
                ))
            },
        );
        self.raise_bound(shared.least());
        (self.costs, self.columns, self.relaxation) = (costs, columns, relaxation);
        self.learned.duals = duals;
        packed.into_iter().for_each(|plan| self.offer(plan));
        let (solved, following) = solved?;
        following.into_iter().for_each(|plan| self.offer(plan));
        solved
    }

    /// Prices the boards of the whole job.
    pub(in crate::layout) fn pricer<'s>(&self, costs: &'s Costs, stop: &'s Stop) -> Pricer<'s, 'a>
    where
        'p: 's,
    {
        Pricer {
            problem: self.problem,
            costs,
            stop,
            nodes: MOST_NODES,
            beat: f64::INFINITY,
        }
    }
}
