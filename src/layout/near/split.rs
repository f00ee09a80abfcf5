//! Splits a part by the question whose answers raise its bound most.

use super::super::master::{Relaxation, Solved};
use super::{EQUAL, Near, Part, ROUGH, SLIGHT, Searched, branch, values};

impl Near<'_, '_> {
    pub(super) fn split(&self, part: Part, solved: &Solved, relaxation: &Relaxation) -> Searched {
        let columns = self.chosen(&part);
        let questions = branch::questions(self.problem, &columns, &part.columns, solved);
        if questions.is_empty() {
            return self.whole(part, solved);
        }
        let answers = self.best_answers(&part, &questions, relaxation);
        let Some(answers) = answers else {
            // Some boards cut alike more than once: no question tells them apart.
            return self.settle(&part).unwrap_or(Searched {
                hoped: Some(part.bound),
                ..Searched::default()
            });
        };
        Searched {
            parts: answers.into(),
            ..Searched::default()
        }
    }

    /// The two parts that come of the question whose answers raise the bound most.
    fn best_answers(
        &self,
        part: &Part,
        questions: &[branch::Question],
        relaxation: &Relaxation,
    ) -> Option<[Part; 2]> {
        let answers = |question: &branch::Question| {
            [true, false].map(|yes| {
                let keep = |&i: &usize| question.allows(self.problem, self.columns[i], i, yes);
                let mut full = part.full.clone();
                full.extend(question.fills(self.problem, yes));
                full.sort_unstable();
                full.dedup();
                let mut part = Part {
                    columns: part.columns.iter().copied().filter(keep).collect(),
                    full,
                    sides: part.sides.clone(),
                    depth: part.depth + 1,
                    bound: part.bound,
                };
                if questions.len() > 1 {
                    self.glance(relaxation, &mut part);
                }
                part
            })
        };
        let rise = |answers: &[Part; 2]| {
            let rise = |one: &Part| (one.bound.min(self.upper) - part.bound).max(SLIGHT);
            rise(&answers[0]) * rise(&answers[1])
        };
        let split = |answers: &[Part; 2]| {
            let same = |a: &Part| a.columns.len() == part.columns.len() && a.full == part.full;
            !answers.iter().any(same)
        };
        let tried = questions.iter().map(answers).filter(split);
        tried.reduce(|a, b| if rise(&b) > rise(&a) { b } else { a })
    }

    /// Raises a part's bound by one rough look.
    fn glance(&self, relaxation: &Relaxation, part: &mut Part) {
        let columns = self.chosen(part);
        let mut relaxation = relaxation.clone();
        let Some(solved) = relaxation.solve(self.problem, &columns, self.rows(part), ROUGH) else {
            return;
        };
        let values = values::values(self.problem, &columns, self.rows(part), &solved.relaxed);
        let bound = values::bound(self.problem, &columns, &values, &solved.relaxed, &part.full);
        part.bound = part.bound.max(bound.total);
    }

    /// The plan a solution without fractions stands for. When it is new, the part is looked at
    /// again with less to beat.
    fn whole(&self, part: Part, solved: &Solved) -> Searched {
        let times = |share: f64| share.round().max(0.0) as usize;
        let columns = part.columns.iter().zip(&solved.shares);
        let plan: Vec<usize> = columns
            .flat_map(|(&column, &share)| std::iter::repeat_n(column, times(share)))
            .collect();
        let cost = self.cost(&plan);
        let sure = plan.iter().all(|&column| column >= self.unsure) && self.glued_up(&plan);
        if sure && cost < self.upper - EQUAL * self.upper.max(1.0) {
            return Searched {
                found: Some(plan),
                parts: vec![part],
                ..Searched::default()
            };
        }
        Searched {
            hoped: Some(part.bound),
            ..Searched::default()
        }
    }
}
