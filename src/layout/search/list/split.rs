//! Splits a part by the question whose answers raise its bound most.

use crate::layout::master::relax::Relaxation;
use crate::layout::master::simplex::More;
use crate::layout::master::solved::Solved;
use crate::layout::search::list::branch;
use crate::layout::search::list::list_search::{
    LEAST_RISE, LOOKS_UNSPLIT, ListSearch, MORE_SO, Node, Searched,
};

impl ListSearch<'_, '_> {
    pub(in crate::layout) fn split(
        &self,
        node: Node,
        solved: &Solved,
        relaxation: &Relaxation,
    ) -> Searched {
        let columns = self.chosen(&node);
        let questions = branch::questions(self.problem, &columns, &node.columns, solved);
        if questions.is_empty() {
            return self.whole(node, solved);
        }
        let answers = self.best_answers(&node, &questions, relaxation);
        let Some(answers) = answers else {
            // Some boards cut alike more than once: no question tells them apart.
            return self.settle(&node).unwrap_or(Searched {
                hoped: Some(node.bound),
                ..Searched::default()
            });
        };
        Searched {
            nodes: answers.into(),
            ..Searched::default()
        }
    }

    /// The two parts that come of the question whose answers raise the relaxation most.
    fn best_answers(
        &self,
        node: &Node,
        questions: &[branch::Question],
        relaxation: &Relaxation,
    ) -> Option<[Node; 2]> {
        let columns = self.chosen(node);
        let simplex = match questions {
            [_] => None,
            _ => relaxation.simplex(self.problem, &columns, self.rows(node)),
        };
        let answers = |question: &branch::Question| {
            [true, false].map(|yes| {
                let mut answered = self.answered(node, question, yes);
                let more = self.more(node, &answered);
                let costs = simplex.as_ref().and_then(|simplex| simplex.cost(&more));
                answered.guess = costs.map_or(node.bound, |cost| cost.min(self.upper));
                answered
            })
        };
        let rise = |answers: &[Node; 2]| -> f64 {
            let rise = |one: &Node| (one.guess - node.bound).max(LEAST_RISE);
            answers.iter().map(rise).product()
        };
        let split = |answers: &[Node; 2]| {
            let same = |a: &Node| a.columns.len() == node.columns.len() && a.full == node.full;
            !answers.iter().any(same)
        };
        let tried = questions.iter().map(answers).filter(split);
        tried.reduce(|a, b| if rise(&b) > rise(&a) * MORE_SO { b } else { a })
    }

    /// The part of a part that answers a question so.
    fn answered(&self, node: &Node, question: &branch::Question, yes: bool) -> Node {
        let keep = |&i: &usize| question.allows(self.problem, self.columns[i], i, yes);
        let mut full = node.full.clone();
        full.extend(question.fills(self.problem, yes));
        full.sort_unstable();
        full.dedup();
        Node {
            columns: node.columns.iter().copied().filter(keep).collect(),
            full,
            sides: node.sides.clone(),
            depth: node.depth + 1,
            bound: node.bound,
            guess: node.bound,
        }
    }

    /// What a part asks beyond the whole it is of.
    fn more(&self, whole: &Node, node: &Node) -> More {
        let mut kept = node.columns.iter().peekable();
        let mut barred = Vec::new();
        for (place, column) in whole.columns.iter().enumerate() {
            if kept.next_if(|&kept| kept == column).is_none() {
                barred.push(place);
            }
        }
        let new = node.full.iter().filter(|board| !whole.full.contains(board));
        let full = new.map(|&board| {
            let of = |&place: &usize| {
                let column = self.columns[whole.columns[place]];
                column.pattern.stock == board
            };
            let places = (0..whole.columns.len()).filter(of).collect();
            (places, self.problem.stock[board].count)
        });
        More {
            barred,
            full: full.collect(),
            sides: Vec::new(),
        }
    }

    /// The plan a solution without fractions stands for. When it is new, the part is looked at
    /// again with less to beat.
    fn whole(&self, node: Node, solved: &Solved) -> Searched {
        let times = |share: f64| share.round().max(0.0) as usize;
        let columns = node.columns.iter().zip(&solved.shares);
        let plan: Vec<usize> = columns
            .flat_map(|(&column, &share)| std::iter::repeat_n(column, times(share)))
            .collect();
        let cost = self.cost(&plan);
        let glued = self.glued_up(&plan);
        let sure = plan.iter().all(|&column| column >= self.unsure) && glued;
        if sure && cost < self.upper - self.slack {
            return Searched {
                found: Some(plan),
                nodes: vec![node],
                ..Searched::default()
            };
        }
        // Which of the staves of a front may be just what is missing no question asks, nor of which log they
        // are: a walk tells.
        if let Some(settled) = self.enumerate(&node, &solved.relaxed, LOOKS_UNSPLIT) {
            return settled;
        }
        Searched {
            hoped: Some(node.bound),
            ..Searched::default()
        }
    }
}
