//! The search over the parts of a list.

use std::collections::HashMap;

use rayon::prelude::*;

use crate::layout::heuristics::state::State;
use crate::layout::master::columns::{Column, Columns};
use crate::layout::master::program::model::Extra;
use crate::layout::master::relax::Relaxation;
use crate::layout::master::separate::rounding::violated_rounding;
use crate::layout::master::separate::subset_row;
use crate::layout::master::separate::subset_row::SubsetRow;
use crate::layout::master::separate::tone_side::{Side, violated_sides};
use crate::layout::master::solved::{Relaxed, Solved};
use crate::layout::model::problem::Problem;
use crate::layout::model::together::Together;
use crate::layout::pricing::rounding_cut::RoundingCut;
use crate::layout::search::frontier;
use crate::layout::search::list::{undominated, values};

/// Seconds the whole-number program may take.
pub(in crate::layout) const SECONDS: f64 = 1.0;
/// Parts worked on side by side; always so many, for equal answers on any number of threads.
const BATCH: usize = 4;
/// How many of them are followed to the end rather than taken by their bound.
const DEEP: usize = 2;
/// Rounds of cuts, and the least rise of the bound, as a share of the gap, worth another.
const ROUNDS: usize = 12;
const WORTH: f64 = 0.02;
/// Times tone rows are looked for before going on with the bound there is.
const TIMES: usize = 8;
/// How exactly relaxations are solved, and when the bound comes close to the cost to beat.
const PRECISION: [f64; 2] = [1e-6, 1e-9];
const NEARLY: f64 = 1e-4;
/// Costs this close are equal.
pub(in crate::layout) const EQUAL: f64 = 1e-7;
/// So many patterns at most are walked rather than split.
pub(in crate::layout) const MOST_ENUMERATED: usize = 2_000;
/// Looks of a walk before more cuts are tried, and before a part is split: one for each half-made plan and
/// front of the job, since with more fronts a plan takes longer to look at.
const LOOKS_BEFORE_CUTS: usize = 2_000_000;
const LOOKS_BEFORE_SPLIT: usize = 6_000_000;
/// Looks where no question splits a part.
pub(in crate::layout) const LOOKS_UNSPLIT: usize = 10 * LOOKS_BEFORE_SPLIT;
/// The least rise of the relaxation told apart from none.
pub(in crate::layout) const LEAST_RISE: f64 = 1e-4;
/// How many times as much the answers to a question must raise it to be taken before one named sooner.
pub(in crate::layout) const MORE_SO: f64 = 1.0 + 1e-6;

/// What came of a list of patterns.
pub(in crate::layout) struct Outcome {
    /// A plan cheaper than the one to beat, if one was found: places in the list.
    pub(in crate::layout) found: Option<Vec<usize>>,
    /// No plan made of the list costs less than this, or than the plan found or to beat.
    pub(in crate::layout) bound: f64,
}

/// The best plan known.
#[derive(Clone, Copy)]
pub(in crate::layout) struct Beat {
    pub(in crate::layout) cost: f64,
    /// The part of it that stands for what it does not make: how close a bound comes is not told by it.
    pub(in crate::layout) penalty: f64,
    pub(in crate::layout) makes_all: bool,
}

/// Some of the patterns, and what a plan made of them costs at least.
#[derive(Clone)]
pub(in crate::layout) struct Node {
    pub(in crate::layout) columns: Vec<usize>,
    /// Boards that must be used.
    pub(in crate::layout) full: Vec<usize>,
    /// Sides of tone steps that single boards put their runs on, as far as found to matter.
    pub(in crate::layout) sides: Vec<Side>,
    /// Questions answered.
    pub(in crate::layout) depth: usize,
    pub(in crate::layout) bound: f64,
    /// Cost of the relaxation as far as known: no bound.
    pub(in crate::layout) guess: f64,
}

/// What became of a part.
#[derive(Default)]
pub(in crate::layout) struct Searched {
    /// Plans found, places in the list.
    pub(in crate::layout) found: Option<Vec<usize>>,
    /// Cost of a plan with an arrangement only hoped for.
    pub(in crate::layout) hoped: Option<f64>,
    pub(in crate::layout) nodes: Vec<Node>,
}

/// A search for the best plan of a list of patterns.
#[derive(Clone)]
pub(in crate::layout) struct ListSearch<'n, 'a> {
    pub(in crate::layout) problem: &'n Problem<'a>,
    pub(in crate::layout) columns: Vec<&'n Column>,
    pub(in crate::layout) list: &'n Columns,
    /// The first so many patterns are only hoped for.
    pub(in crate::layout) unsure: usize,
    pub(in crate::layout) relaxation: Relaxation,
    pub(in crate::layout) subset_rows: Vec<SubsetRow>,
    rounding: Vec<RoundingCut>,
    /// Cost to beat.
    pub(in crate::layout) upper: f64,
    /// Costs this close to it are equal.
    pub(in crate::layout) slack: f64,
    /// Whether the plan to beat makes every front.
    pub(in crate::layout) all_made: bool,
    /// Batches of parts looked at, at most.
    most: usize,
    pub(in crate::layout) stop: &'n (dyn Fn() -> bool + Sync),
}

impl<'n, 'a> ListSearch<'n, 'a> {
    /// A search for a plan that beats the best known; the first `unsure` patterns of the list are only
    /// hoped for. `relaxation` knows which tone rows matter.
    pub(in crate::layout) fn new(
        problem: &'n Problem<'a>,
        list: &'n Columns,
        unsure: usize,
        relaxation: Relaxation,
        beat: Beat,
        stop: &'n (dyn Fn() -> bool + Sync),
    ) -> ListSearch<'n, 'a> {
        ListSearch {
            problem,
            columns: list.all(),
            list,
            unsure,
            rounding: relaxation.rounding(),
            relaxation,
            subset_rows: Vec::new(),
            upper: beat.cost,
            slack: EQUAL * (beat.cost - beat.penalty).max(1.0),
            all_made: beat.makes_all,
            most: usize::MAX,
            stop,
        }
    }

    /// The same for a look at so many batches of parts at most.
    pub(in crate::layout) fn at_most(self, most: usize) -> ListSearch<'n, 'a> {
        ListSearch { most, ..self }
    }

    /// Searches to the end, or until stopped. `relaxed` has prices that are good for all patterns.
    pub(in crate::layout) fn search(mut self, bound: f64, relaxed: &Relaxed) -> Outcome {
        let mut whole = Node {
            columns: undominated::undominated(self.problem, &self.columns, self.unsure),
            full: self.problem.used.clone(),
            sides: Vec::new(),
            depth: 0,
            bound,
            guess: bound,
        };
        let mut outcome = Outcome {
            found: None,
            bound: f64::INFINITY,
        };
        let mut open = Vec::new();
        let settled = self.enumerate(&whole, relaxed, LOOKS_BEFORE_CUTS);
        whole.sides = self.relaxation.sides();
        match settled.or_else(|| self.cut(&mut whole)) {
            Some(settled) => self.learn(settled, &mut outcome, &mut open),
            None => open.push(whole),
        }
        for _ in 0..self.most {
            open.retain(|node| !self.beaten(node.bound));
            if open.is_empty() || (self.stop)() {
                break;
            }
            let at = |node: &Node| (node.depth, node.guess);
            let batch = frontier::next(&mut open, (BATCH, DEEP), at);
            let searched: Vec<Searched> = batch.par_iter().map(|node| self.node(node)).collect();
            for one in searched {
                self.learn(one, &mut outcome, &mut open);
            }
        }
        let open = open.iter().filter(|node| !self.beaten(node.bound));
        let least = open.map(|node| node.bound).fold(self.upper, f64::min);
        outcome.bound = outcome.bound.min(least);
        outcome
    }

    /// Takes over what became of a part.
    fn learn(&mut self, searched: Searched, outcome: &mut Outcome, open: &mut Vec<Node>) {
        let hoped = searched.hoped.unwrap_or(f64::INFINITY);
        outcome.bound = outcome.bound.min(hoped);
        if let Some(plan) = searched.found
            && let cost = self.cost(&plan)
            && cost < self.upper - EQUAL
        {
            (self.upper, outcome.found) = (cost, Some(plan));
        }
        open.extend(searched.nodes);
    }

    fn beaten(&self, bound: f64) -> bool {
        bound >= self.upper - self.slack
    }

    pub(in crate::layout) fn cost(&self, plan: &[usize]) -> f64 {
        State::of(self.problem, self.list.pick(self.problem, plan)).cost(self.problem)
    }

    /// Raises the bound of the whole list with cuts, or settles it when the plans are few.
    ///
    /// After the first, a walk seldom settles anything, and takes as long as the next relaxation: so that is
    /// solved beside it.
    fn cut(&mut self, node: &mut Node) -> Option<Searched> {
        let mut before = node.bound;
        let mut solved = self.tighten(node)?;
        for round in 1..=ROUNDS {
            let (mut next, mut tighter) = (self.clone(), node.clone());
            let more = round < ROUNDS && next.add_cuts(node, before, &solved);
            let (settled, again) = rayon::join(
                || self.enumerate(node, &solved.relaxed, LOOKS_BEFORE_CUTS),
                || more.then(|| next.tighten(&mut tighter)),
            );
            if settled.is_some() {
                return settled;
            }
            let again = again?;
            before = node.bound;
            (*self, *node) = (next, tighter);
            solved = again?;
        }
        None
    }

    /// Solves the relaxation of a part and keeps the tone rows it turns out to lack.
    fn tighten(&mut self, node: &mut Node) -> Option<Solved> {
        let mut relaxation = self.relaxation.clone();
        let solved = self.relax(&mut relaxation, node)?;
        self.relaxation = relaxation;
        Some(solved)
    }

    /// Adds the cuts a solution breaks and leaves out those that do not bind; false when there are none, or
    /// when the last ones raised the bound from `before` too little.
    fn add_cuts(&mut self, node: &Node, before: f64, solved: &Solved) -> bool {
        let columns = self.chosen(node);
        let cuts = subset_row::violated(self.problem, &columns, solved);
        let mut rounding = violated_rounding(self.problem, &columns, solved);
        rounding.retain(|cut| !self.rounding.contains(cut));
        let none = cuts.is_empty() && rounding.is_empty();
        let slight = node.bound - before < WORTH * (self.upper - node.bound);
        if self.beaten(node.bound) || none || (slight && !self.subset_rows.is_empty()) {
            return false;
        }
        self.rounding.extend(rounding);
        let known = std::mem::take(&mut self.subset_rows).into_iter();
        let binding = known.zip(&solved.relaxed.paired);
        let binding = binding.filter(|(_, toll)| **toll > EQUAL);
        self.subset_rows = binding.map(|(cut, _)| cut).chain(cuts).collect();
        true
    }

    pub(in crate::layout) fn rows<'r>(&'r self, node: &'r Node) -> Extra<'r> {
        Extra {
            subset_rows: &self.subset_rows,
            rounding: &self.rounding,
            sides: &node.sides,
            full: &node.full,
        }
    }

    pub(in crate::layout) fn chosen(&self, node: &Node) -> Vec<&'n Column> {
        node.columns.iter().map(|&i| self.columns[i]).collect()
    }

    /// Solves the relaxation of a part, raises its bound and strikes patterns off. Nothing when the
    /// solver fails, time is up or the part is beaten.
    pub(in crate::layout) fn relax(
        &self,
        relaxation: &mut Relaxation,
        node: &mut Node,
    ) -> Option<Solved> {
        let mut precision = PRECISION[0];
        for _ in 0..TIMES {
            if (self.stop)() {
                return None;
            }
            let columns = self.chosen(node);
            let solved = relaxation.solve(self.problem, &columns, self.rows(node), precision)?;
            let values = values::values(self.problem, &columns, self.rows(node), &solved.relaxed);
            let bound = values::bound(self.problem, &columns, &values, &solved.relaxed, &node.full);
            node.bound = node.bound.max(bound.total);
            if self.beaten(node.bound) {
                return None;
            }
            let sides = violated_sides(self.problem, &columns, &solved, true);
            let new: Vec<Side> = sides
                .into_iter()
                .filter(|s| !node.sides.contains(s))
                .collect();
            let tight = solved.relaxed.tight && new.is_empty();
            node.sides.extend(new);
            if tight {
                let close = node.bound > self.upper - NEARLY * self.upper.max(1.0);
                if !close || precision == PRECISION[1] {
                    return Some(self.strike_off(node, solved, &columns, &values, &bound));
                }
                precision = PRECISION[1];
            }
        }
        let columns = self.chosen(node);
        relaxation.solve(self.problem, &columns, self.rows(node), precision)
    }

    /// Leaves out patterns no better plan can have, in the part and in its solution.
    fn strike_off(
        &self,
        node: &mut Node,
        mut solved: Solved,
        columns: &[&Column],
        values: &[f64],
        bound: &values::Bound,
    ) -> Solved {
        let with = |i: usize| bound.total + bound.best[columns[i].pattern.stock] - values[i];
        let keep: Vec<bool> = (0..columns.len()).map(|i| !self.beaten(with(i))).collect();
        let mut kept = keep.iter();
        node.columns.retain(|_| *kept.next().unwrap_or(&true));
        let mut kept = keep.iter();
        solved.shares.retain(|_| *kept.next().unwrap_or(&true));
        solved
    }

    /// Whether all staves of every gluing begun are there, and wide enough.
    pub(in crate::layout) fn glued_up(&self, plan: &[usize]) -> bool {
        let mut cut = HashMap::new();
        for (gluing, wide, lost) in plan
            .iter()
            .flat_map(|&i| self.columns[i].staves_with_loss())
        {
            let staves: &mut Together = cut.entry(gluing).or_default();
            staves.add(wide, lost);
        }
        cut.iter()
            .all(|(&gluing, staves)| staves.complete(self.problem, gluing))
    }

    /// Settles a part, or splits it.
    fn node(&self, node: &Node) -> Searched {
        let mut node = node.clone();
        let mut relaxation = self.relaxation.clone();
        match self.relax(&mut relaxation, &mut node) {
            Some(solved) => match self.enumerate(&node, &solved.relaxed, LOOKS_BEFORE_SPLIT) {
                Some(settled) => settled,
                None => self.split(node, &solved, &relaxation),
            },
            None if self.beaten(node.bound) => Searched::default(),
            // Without a solution there is no telling how to split: the part stays as it is.
            None => Searched {
                hoped: Some(node.bound),
                ..Searched::default()
            },
        }
    }
}
