//! The parts of all plans, worked on in batches until none is left.

use rayon::prelude::*;

use crate::layout::heuristics::state::State;
use crate::layout::master::solved::Solved;
use crate::layout::model::pattern::Pattern;
use crate::layout::search::dual_point::{DualPoint, base};
use crate::layout::search::frontier;
use crate::layout::search::listing::{LONG, ListLimit, Surplus};
use crate::layout::search::optimiser::Optimiser;
use crate::layout::search::pricer::{MOST_NODES, Pricer};
use crate::layout::search::tolerance::ENOUGH;
use crate::layout::search::tree::node::{NODES, Node};

/// Parts worked on side by side; always so many, for equal answers on any number of threads.
const BATCH: usize = 4;
/// How many of them are those split most often rather than those with the least bound.
const DEEP: usize = 1;
/// How far down what they are split into is worked on with them, where there are fewer parts than that and
/// where there are enough: a part that takes long keeps none of the others waiting meanwhile.
const LEVELS: [usize; 2] = [4, 2];
/// How far the patterns of a part are listed before it is split.
const SHORT: ListLimit = ListLimit {
    nodes: 400_000,
    patterns: 2_000,
    batches: 4,
};
/// How many times as many where the parts cannot be told apart.
const MORE: usize = 8;
/// How much further than the gap the first list of a part goes, as a share of the cost to beat: patterns
/// listed are mostly worth no more than this over their price, and it need not be listed again.
const FURTHER: f64 = 2e-4;

/// What became of some parts.
struct Grown<'a> {
    /// Plans that beat the best known.
    plans: Vec<Vec<Pattern>>,
    nodes: Vec<Node<'a>>,
    /// What those plans of them cost at least of which nothing more can be found out.
    stuck: f64,
}

impl Default for Grown<'_> {
    fn default() -> Self {
        Grown {
            plans: Vec::new(),
            nodes: Vec::new(),
            stuck: f64::INFINITY,
        }
    }
}

impl<'a> Grown<'a> {
    fn and(mut self, other: Grown<'a>) -> Grown<'a> {
        self.plans.extend(other.plans);
        self.nodes.extend(other.nodes);
        self.stuck = self.stuck.min(other.stuck);
        self
    }
}

impl<'a> Optimiser<'_, 'a> {
    /// Splits all plans, whose relaxation is `solved`, until every part is shown to hold nothing cheaper
    /// than the best.
    pub(in crate::layout) fn grow(&mut self, solved: Solved, dual_point: Option<DualPoint>) {
        let mut open = vec![Node {
            problem: self.problem.clone(),
            columns: std::mem::take(&mut self.columns),
            relaxation: self.relaxation.clone(),
            prices: dual_point,
            solved: Some(solved),
            most_walked: NODES,
            depth: 0,
            last: false,
            bound: self.bound,
        }];
        let mut stuck = f64::INFINITY;
        while !open.is_empty() && !self.stopped() {
            let at = |node: &Node| (node.depth, node.bound);
            let batch = frontier::next(&mut open, (BATCH, DEEP), at);
            let levels = LEVELS[usize::from(batch.len() == BATCH)];
            let grown = self.descend(batch, levels);
            for plan in grown.plans {
                self.offer(State::of(self.problem, plan));
            }
            stuck = stuck.min(grown.stuck);
            open.extend(grown.nodes);
            open.retain(|node| !self.beaten(node.bound));
            let least = open.iter().map(|node| node.bound).fold(stuck, f64::min);
            self.raise_bound(least.min(self.cost));
        }
    }

    fn beaten(&self, bound: f64) -> bool {
        self.closes(bound)
    }

    /// Works on parts side by side, and on what comes of each so many levels down: but for what is to wait,
    /// and unless that brings a better plan, of which all others should know.
    fn descend(&self, nodes: Vec<Node<'a>>, levels: usize) -> Grown<'a> {
        let down = |node| {
            let mut grown = self.node(node);
            if levels == 1 || !grown.plans.is_empty() {
                return grown;
            }
            let nodes = std::mem::take(&mut grown.nodes).into_iter();
            let (last, nodes) = nodes.partition(|node| node.last);
            grown.nodes = last;
            grown.and(self.descend(nodes, levels - 1))
        };
        let grown: Vec<Grown> = nodes.into_par_iter().map(down).collect();
        grown.into_iter().fold(Grown::default(), Grown::and)
    }

    /// Prices a part, closes it by a list, or splits it.
    fn node(&self, mut node: Node<'a>) -> Grown<'a> {
        let stop = self.stop();
        let problem = node.problem.clone();
        let pricer = Pricer {
            problem: &problem,
            costs: &self.costs,
            stop: &stop,
            nodes: node.most_walked,
            beat: self.aim(),
        };
        let mut bound = node.bound;
        let mut raise = |least: f64, most: f64| {
            bound = bound.max(self.rounded(least));
            self.beaten(bound) || most - least < ENOUGH * (self.aim() - least)
        };
        // All plans were listed before they were split, with more effort: a list too long then is now.
        let listed = node.solved.is_some() && !node.last;
        let prices = node.prices.take();
        let (columns, relaxation) = (&mut node.columns, &mut node.relaxation);
        let mut generate = || pricer.generate(columns, relaxation, prices.clone(), &mut raise);
        let (solved, dual_point) = match node.solved.take() {
            Some(solved) => (Some(solved), prices.clone()),
            None => generate().map_or((None, None), |(solved, dual_point)| {
                (Some(solved), dual_point)
            }),
        };
        node.bound = bound;
        let Some(solved) = solved else {
            let mut grown = Grown::default();
            if stop() {
                grown.nodes.push(node);
            } else {
                grown.stuck = bound;
            }
            return grown;
        };
        if self.beaten(node.bound) {
            return Grown::default();
        }
        let limit = if node.last { LONG } else { SHORT };
        let known = node.columns.len();
        let mut grown = Grown::default();
        if !listed {
            let plan = self.shortlist(&pricer, &mut node, &solved, limit);
            grown.plans.extend(plan);
        }
        if self.beaten(node.bound) {
            return grown;
        }
        if node.columns.len() > known {
            node.prices = dual_point;
            grown.nodes = vec![node];
            return grown;
        }
        if node.last {
            grown.stuck = node.bound;
            return grown;
        }
        grown.nodes = match self.split(&node, &solved, &dual_point) {
            Some(nodes) => nodes,
            None => vec![self.unsplit(node, solved, dual_point)],
        };
        grown
    }

    /// A part that no question splits: it is priced longer, or is only to be listed.
    fn unsplit(
        &self,
        mut node: Node<'a>,
        solved: Solved,
        dual_point: Option<DualPoint>,
    ) -> Node<'a> {
        let off = solved.relaxed.cost - node.bound;
        if off < ENOUGH * (self.aim() - node.bound) || node.most_walked == MOST_NODES {
            (node.last, node.depth, node.most_walked) = (true, 0, MOST_NODES);
            node.solved = Some(solved);
        } else {
            node.most_walked = (node.most_walked * MORE).min(MOST_NODES);
        }
        node.prices = dual_point;
        node
    }

    /// Lists the patterns a better plan of the part may have, if they are few, and raises its bound. Those
    /// worth more than their price are the part's from then on.
    fn shortlist(
        &self,
        pricer: &Pricer,
        node: &mut Node,
        solved: &Solved,
        limit: ListLimit,
    ) -> Option<Vec<Pattern>> {
        let base = base(pricer.problem, &solved.relaxed);
        let relaxation = node.relaxation.with_unmade(self.unmade_costs());
        let (beat, mut surplus, mut plan) = (self.beat(), Surplus::default(), None);
        // What patterns are worth more than their price is known only once they are listed.
        for _ in 0..2 {
            let reach = self.aim() - base + FURTHER * self.cost.abs().max(1.0);
            let (relaxation, bound) = (relaxation.clone(), node.bound);
            let listed = pricer.list(
                &solved.relaxed,
                relaxation,
                (reach, &surplus),
                limit,
                beat,
                bound,
            );
            let Some(listed) = listed else {
                break;
            };
            node.bound = node.bound.max(self.rounded(listed.bound));
            plan = listed.plan.or(plan);
            let mut new = |pattern: &&Pattern| node.columns.add(pricer.problem, pattern);
            if listed.dear.iter().filter(&mut new).count() > 0 {
                break;
            }
            surplus = listed.surplus;
            if self.beaten(node.bound) || surplus.total() <= 0.0 {
                break;
            }
        }
        plan
    }
}
