//! Fronts that are alike in everything the plan depends on.
//!
//! Fifty fronts of one size, each a run of its own, can trade places in a plan without changing
//! it. Told apart, they give every plan a multitude of equals, which no search can tell from
//! progress. So patterns say only how many of them they cut: each is written as the first of its
//! kind, as often as it is cut, and told apart again when a plan is made.

use std::collections::HashMap;

use crate::layout::model::identical::IdenticalFronts;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::Shape;
use crate::layout::model::worths::Worths;
use crate::plan::Limits;

/// A single pair is told apart all the same: without identical fronts plans can be split and walked, which gains more.
const TOLD_APART: f64 = 2.0;

impl IdenticalFronts {
    /// Fronts of one size, thickness and boards to come from, if they are runs of their own and not glued.
    /// Where tones count over the case, no two fronts are alike: each has its own say in them.
    pub(in crate::layout) fn of(problem: &Problem) -> IdenticalFronts {
        let &Worths {
            tone_case,
            // Each is a run of its own, in one piece on one board: it has no break, no glue line, no spread of its
            // own and nothing to mix.
            unbroken: _,
            tone_run: _,
            glue_line: _,
            mixed: _,
        } = &problem.worth;
        let tones_count =
            problem.tones.len() > 1 && (tone_case > 0.0 || problem.limits.tone_within.is_some());
        let chalked = problem.stock.iter().any(|stock| !stock.moving.is_empty());
        if tones_count || chalked {
            return IdenticalFronts::none(problem.chain.len());
        }
        let mut identical = IdenticalFronts::none(0);
        let mut kinds = HashMap::new();
        for (row, &front) in problem.chain.iter().enumerate() {
            let front = &problem.job.fronts[front];
            let item = &problem.items[problem.starts[row].start];
            let alone = problem.runs[item.run].len() == 1 && problem.glued_starts[row].is_empty();
            let size = (front.width, front.height, front.thickness);
            let first = if alone {
                *kinds
                    .entry((
                        size,
                        item.lengths[0],
                        item.width,
                        &front.boards,
                        &front.not_boards,
                    ))
                    .or_insert(row)
            } else {
                row
            };
            identical.first.push(first);
            identical.rows.push(Vec::new());
            identical.rows[first].push(row);
        }
        if identical.ways() <= TOLD_APART {
            return IdenticalFronts::none(problem.chain.len());
        }
        identical
    }

    /// The pattern's shape with all identical fronts written as the first of their kind.
    pub(in crate::layout) fn merged(&self, problem: &Problem, shape: &Shape) -> Shape {
        self.renamed(problem, shape, |row| self.first[row])
    }

    /// The patterns of one plan with the identical fronts told apart.
    pub(in crate::layout) fn told_apart(
        &self,
        problem: &Problem,
        patterns: Vec<Pattern>,
    ) -> Vec<Pattern> {
        let mut used = vec![0; self.rows.len()];
        let apart = |pattern: Pattern| Pattern {
            shape: self.renamed(problem, &pattern.shape, |row| {
                let first = self.first[row];
                used[first] += 1;
                self.rows[first][used[first] - 1]
            }),
            ..pattern
        };
        patterns.into_iter().map(apart).collect()
    }

    /// The shape with each front that has identical fronts replaced by the one `name` says.
    fn renamed(
        &self,
        problem: &Problem,
        shape: &Shape,
        mut name: impl FnMut(usize) -> usize,
    ) -> Shape {
        let mut shape = shape.clone();
        for item in shape
            .iter_mut()
            .flatten()
            .flat_map(|strip| &mut strip.items)
        {
            let row = problem.items[*item].rows.start;
            if self.rows[self.first[row]].len() > 1 {
                *item = problem.starts[name(row)].start;
            }
        }
        shape
    }
}

impl Problem<'_> {
    /// Makes the plan keep to `limits`.
    pub(in crate::layout) fn keep_to(&mut self, limits: Limits) {
        self.limits = limits;
        self.identical = IdenticalFronts::of(self);
    }
}
