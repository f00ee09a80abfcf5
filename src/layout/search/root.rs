//! The root of the search: first plans, and prices good for the whole job.

use crate::layout::geometry::costs::Costs;
use crate::layout::master::relax::Relaxation;
use crate::layout::master::solved::Solved;
use crate::layout::model::steps;
use crate::layout::search::asked::Asked;
use crate::layout::search::fewer::Word;
use crate::layout::search::larger::Larger;
use crate::layout::search::plans::following;
use crate::layout::search::pricer::{MOST_NODES, Pricer, Stop};
use crate::layout::search::search::Search;
use crate::layout::search::tree::part;

impl<'p, 'a> Search<'p, 'a> {
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
    ) -> Option<(Solved, Option<Asked>)> {
        self.first_plans(seed);
        if self.makes_all_in_steps() {
            self.raise_bound(steps::blanks_alone(self.problem));
        }
        self.price_out(seed, packing)
    }

    /// Column generation for the whole job, and beside it, with `packing`, packing into fewer boards and what
    /// the larger fronts cost alone.
    fn price_out(&mut self, seed: u64, packing: bool) -> Option<(Solved, Option<Asked>)> {
        if self.closed() {
            return None;
        }
        let costs = std::mem::take(&mut self.costs);
        let mut columns = std::mem::take(&mut self.columns);
        let mut relaxation = self.relaxation.clone();
        let stop = self.stop();
        let word = Word::new(self.cost, self.bound);
        let packing = packing.then(|| self.packing((&costs, &stop, &word), seed));
        let packing = packing.flatten();
        let settled = || stop() || word.closed();
        let larger = Larger {
            problem: self.problem,
            costs: &costs,
            begun: self.begun,
            time: self.time,
            stop: &settled,
            word: &word,
            seed,
        };
        let pricer = self.pricer(&costs, &settled);
        let problem = self.problem;
        let until = self.time.map(|time| self.begun + time);
        let sided = self.sided();
        let mut raise = |bound: f64, _| {
            self.raise_bound(bound);
            word.bound(self.bound);
            self.closed() || word.closed()
        };
        let (packed, solved) = rayon::join(
            || packing.map(|packing| larger.pack(packing)),
            || {
                let (plain, asked) =
                    pricer.generate(&mut columns, &mut relaxation, None, &mut raise)?;
                if !sided || word.closed() {
                    return Some((Some((plain, asked)), Vec::new()));
                }
                // From its prices on: those of the first rounds would be priced far longer with sides.
                relaxation = Relaxation::new(problem).until(until).sided();
                let (known, all) = (asked, columns.clone());
                // Where one board takes long to price, parts of the plans are priced sooner.
                let nodes = if problem.twins.any() {
                    MOST_NODES
                } else {
                    part::NODES
                };
                let pricer = Pricer { nodes, ..pricer };
                Some(rayon::join(
                    || pricer.generate(&mut columns, &mut relaxation, known, &mut raise),
                    || following((problem, &costs), &all, &plain, seed, &stop),
                ))
            },
        );
        self.raise_bound(word.least());
        (self.costs, self.columns, self.relaxation) = (costs, columns, relaxation);
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
