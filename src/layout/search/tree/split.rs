//! Splits a part in two by the question whose answers raise its relaxation most (strong branching).

use std::mem::{Discriminant, discriminant};

use rayon::prelude::*;

use crate::layout::master::columns::{Column, Columns};
use crate::layout::master::program::model::Extra;
use crate::layout::master::simplex::{More, Simplex};
use crate::layout::master::solved::{Relaxed, Solved};
use crate::layout::model::completion::Completion;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::search::dual_point::{DualPoint, base};
use crate::layout::search::optimiser::Optimiser;
use crate::layout::search::pricer::ample;
use crate::layout::search::tree::node::{NODES, Node};
use crate::layout::search::tree::question::{Question, questions};

/// The least rise of the relaxation told apart from none.
const LEAST_RISE: f64 = 1e-3;
/// Share of the most that answers raise it which counts as no less: of these a question of the first kind
/// is asked, the one that leaves out most columns.
const AS_MUCH: f64 = 1.0 - 1e-6;

impl<'a> Optimiser<'_, 'a> {
    /// The two parts that come of the question whose answers raise the relaxation most.
    pub(in crate::layout) fn split(
        &self,
        node: &Node<'a>,
        solved: &Solved,
        dual_point: &Option<DualPoint>,
    ) -> Option<Vec<Node<'a>>> {
        let mut open = questions(&node.problem, &node.columns.all(), solved);
        if !self.beat().makes_all {
            // A run of which nothing is made is on neither side.
            open.retain(|question| !matches!(question, Question::Side(_)));
        }
        let within_gap = self.within_gap(node, &solved.relaxed);
        let (sides, rounding) = (node.relaxation.sides(), node.relaxation.rounding());
        let extra = Extra {
            sides: &sides,
            rounding: &rounding,
            full: &node.problem.used,
            ..Extra::default()
        };
        let simplex = node.relaxation.simplex(&node.problem, &within_gap, extra);
        let alone = simplex.as_ref();
        let alone = alone.and_then(|simplex| simplex.cost(&More::default()));
        let from = Tried {
            node,
            within_gap: &within_gap,
            simplex,
            cost: alone.unwrap_or(solved.relaxed.cost),
        };
        let tried: Vec<Answers> = open
            .par_iter()
            .filter_map(|question| self.answers(&from, question))
            .collect();
        let most = tried.iter().map(|one| one.rise).fold(0.0, f64::max);
        let best = tried.into_iter().filter(|one| one.rise >= most * AS_MUCH);
        let better = |a: &Answers, b: &Answers| b.kind == a.kind && b.barred > a.barred;
        let best = best.reduce(|a, b| if better(&a, &b) { b } else { a });
        let answered = |problem| node_of(node, problem, &within_gap, &solved.relaxed, dual_point);
        best.map(|best| best.problems.map(answered).into())
    }

    /// The patterns of a part that a better plan may have; where its prices go past the cost to beat, for
    /// want of time to price a board, those not far from their price.
    fn within_gap<'c>(&self, node: &'c Node, relaxed: &Relaxed) -> Vec<&'c Column> {
        let room = self.aim() - base(&node.problem, relaxed);
        let room = room.max(ample(self.cost));
        let prices = relaxed.prices.per_wood(relaxed.wood);
        let reduced_cost = |p: &Pattern| -prices.value(&node.problem, p) * relaxed.wood;
        let all = node.columns.all().into_iter();
        all.filter(|column| reduced_cost(&column.pattern) < room)
            .collect()
    }

    /// The answers to a question, tried over the columns a better plan may have; nothing when it is
    /// known.
    fn answers(&self, from: &Tried<'_, 'a>, question: &Question) -> Option<Answers<'a>> {
        let whole = &from.node.problem;
        let answered = |yes| question.answered(whole, yes);
        let problems = [answered(true)?, answered(false)?];
        let (mut rise, mut barred) = (1.0, 1.0);
        for problem in &problems {
            let more = more(whole, problem, from.within_gap);
            barred *= (1 + more.barred.len()) as f64;
            let simplex = from.simplex.as_ref().filter(|_| !self.stopped());
            let cost = simplex.and_then(|simplex| simplex.cost(&more));
            rise *= (cost.unwrap_or(from.cost).min(self.aim()) - from.cost).max(LEAST_RISE);
        }
        Some(Answers {
            problems,
            kind: discriminant(question),
            rise,
            barred,
        })
    }
}

/// The parts of either answer to a question.
struct Answers<'a> {
    problems: [Problem<'a>; 2],
    /// What kind of question it is.
    kind: Discriminant<Question>,
    /// How much they raise the relaxation: the product of both.
    rise: f64,
    /// How many columns they leave out: likewise.
    barred: f64,
}

/// What questions are tried on.
struct Tried<'t, 'a> {
    node: &'t Node<'a>,
    within_gap: &'t [&'t Column],
    /// Nothing where the solver fails: then a question is as good as another.
    simplex: Option<Simplex>,
    /// Cost of the relaxation without an answer.
    cost: f64,
}

/// What `part`, some of the plans of `whole`, asks beyond it.
fn more(whole: &Problem, part: &Problem, within_gap: &[&Column]) -> More {
    let completion = Completion::of(part);
    let of = |has: &dyn Fn(&Column) -> bool| -> Vec<usize> {
        (0..within_gap.len())
            .filter(|&place| has(within_gap[place]))
            .collect()
    };
    let used = part.used.iter().filter(|board| !whole.used.contains(board));
    let full = used.map(|&board| {
        let places = of(&|column| column.pattern.stock == board);
        (places, part.stock[board].count)
    });
    let sides = part.sides.iter().filter(|side| !whole.sides.contains(side));
    More {
        barred: of(&|column| !may(part, &completion, &column.pattern)),
        full: full.collect(),
        sides: sides.copied().collect(),
    }
}

/// Whether a plan of the part that is `problem` may have the pattern.
fn may(problem: &Problem, completion: &Completion, pattern: &Pattern) -> bool {
    let stock = &problem.stock[pattern.stock];
    let free = pattern.items().all(|item| stock.widest[item] > 0);
    let has = |gluing| {
        pattern
            .items()
            .any(|item| problem.items[item].gluing == Some(gluing))
    };
    let mut giving = problem.giving.iter();
    let gives = giving.all(|&(board, gluing)| board != pattern.stock || has(gluing));
    free && gives && completion.complete(problem, pattern.stock, &pattern.shape)
}

/// A part of `part`, which starts from the patterns `within_gap`.
fn node_of<'a>(
    node: &Node,
    problem: Problem<'a>,
    within_gap: &[&Column],
    relaxed: &Relaxed,
    dual_point: &Option<DualPoint>,
) -> Node<'a> {
    let (mut columns, completion) = (Columns::default(), Completion::of(&problem));
    let kept = within_gap.iter().map(|column| &column.pattern);
    for pattern in kept.filter(|p| may(&problem, &completion, p)) {
        columns.add(&problem, pattern);
    }
    Node {
        problem,
        columns,
        relaxation: node.relaxation.boxed(&node.problem, relaxed),
        prices: dual_point.clone(),
        solved: None,
        most_walked: NODES,
        depth: node.depth + 1,
        last: false,
        bound: node.bound,
    }
}
