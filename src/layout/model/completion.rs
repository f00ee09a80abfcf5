//! Whether the staves of a front can be wide enough together.
//!
//! A pattern with some staves of a gluing leaves the others to other patterns, and boards are only so
//! wide. Where the staves are too narrow together, no plan has the pattern. The relaxation would cut
//! half of it: what it lacks, half of a pattern with wider staves than anyone needs makes up for.

use crate::layout::model::pattern::staves_of;
use crate::layout::model::problem::Problem;
use crate::layout::model::shape::Shape;

/// The widest staves of each gluing that any board gives.
pub(in crate::layout) struct Completion {
    widest: Vec<i64>,
}

impl Completion {
    /// Those of a job, or of a part of its plans.
    pub(in crate::layout) fn of(problem: &Problem) -> Completion {
        let widest = problem.gluings.iter().map(|gluing| {
            let staves = problem.stock.iter().map(|stock| stock.widest[gluing.item]);
            staves.max().unwrap_or(0).min(gluing.widest)
        });
        Completion {
            widest: widest.collect(),
        }
    }

    /// Whether `count` staves of a gluing, `wide` together, can be part of it. Those it lacks may be from
    /// any board, the same one too: so a pattern without some of its staves is not the worse for it,
    /// which pricing relies on.
    pub(in crate::layout) fn enough(
        &self,
        problem: &Problem,
        gluing: usize,
        (count, wide): (usize, i64),
    ) -> bool {
        let of = &problem.gluings[gluing];
        let lacking = of.staves.saturating_sub(count) as i64;
        wide + lacking * self.widest[gluing] >= of.asked_width
    }

    /// How many staves of a gluing one board of kind `stock` may give at most.
    pub(in crate::layout) fn most(&self, problem: &Problem, stock: usize, gluing: usize) -> usize {
        let (cuts, of) = (&problem.cuts, &problem.gluings[gluing]);
        let (item, board) = (&problem.items[of.item], &problem.stock[stock]);
        let each = of.widest.min(board.widest[of.item]);
        // Where only one is that long, all lie side by side.
        let alone = 2 * item.room + cuts.crosscut > board.usable();
        let may = |&count: &usize| {
            let beside = board.width - 2 * cuts.edge - (count as i64 - 1) * cuts.rip;
            let most = each * count as i64;
            let wide = if alone { most.min(beside) } else { most };
            let fits = !alone || item.width * count as i64 <= beside;
            fits && self.enough(problem, gluing, (count, wide))
        };
        (1..=of.staves).rev().find(may).unwrap_or(0)
    }

    /// Whether all staves of a pattern `shape` on a board of kind `stock` can be part of their gluings.
    pub(in crate::layout) fn complete(
        &self,
        problem: &Problem,
        stock: usize,
        shape: &Shape,
    ) -> bool {
        let mut staves: Vec<(usize, i64)> = staves_of(problem, stock, shape).collect();
        staves.sort_unstable();
        staves.chunk_by(|a, b| a.0 == b.0).all(|of| {
            let wide = of.iter().map(|stave| stave.1).sum();
            self.enough(problem, of[0].0, (of.len(), wide))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::generate::Size;
    use crate::job::generate::generate;
    use crate::layout::model::shape::StripShape;
    use crate::layout::model::stock::Stock;
    use proptest::prelude::*;

    #[test]
    fn a_pattern_with_all_staves_of_a_front_is_complete_only_when_they_are_wide_enough() {
        let job = generate(Size::CHEST, 11);
        let problem = Problem::new(&job, false);
        let completion = Completion::of(&problem);
        let fits = |stock: &Stock, gluing: usize| stock.widest[problem.gluings[gluing].item] > 0;
        let (stock, gluing) = (0..problem.gluings.len())
            .filter(|&gluing| problem.gluings[gluing].staves == 2)
            .find_map(|gluing| {
                let stock = problem.stock.iter().position(|stock| fits(stock, gluing));
                stock.map(|stock| (stock, gluing))
            })
            .expect("some front of the job may be glued");
        let of = &problem.gluings[gluing];
        let shape = |widths: [i64; 2]| vec![widths.map(|w| StripShape::of(of.item, w)).to_vec()];
        let least = problem.items[of.item].width;
        assert!(!completion.complete(&problem, stock, &shape([least, least])));
        let wide = of.widest.min(problem.stock[stock].widest[of.item]);
        let enough = 2 * wide >= of.total_width;
        assert_eq!(
            completion.complete(&problem, stock, &shape([wide, wide])),
            enough
        );
    }

    proptest! {
        /// However many staves are no wider than some width, one of the others makes up for it.
        #[test]
        fn narrow_staves_have_a_partner_as_wide_as_said(
            widths in prop::collection::vec(1_i64..1000, 2..6),
            spare in 0_i64..200,
            share in 1_i64..100,
        ) {
            let total = widths.iter().sum::<i64>() - spare;
            let narrow = total * share / (100 * widths.len() as i64);
            let gluing = crate::layout::model::items::Gluing {
                rows: 0..1,
                staves: widths.len(),
                total_width: total,
                asked_width: total,
                rests: Vec::new(),
                widest: total,
                item: 0,
            };
            prop_assume!(narrow > 0 && gluing.narrow(narrow));
            let lone = widths.iter().filter(|&&width| width <= narrow).count();
            let partners = widths.iter().filter(|&&w| w >= gluing.partner(narrow)).count();
            prop_assert!(lone <= (gluing.staves - 1) * partners);
        }
    }
}
