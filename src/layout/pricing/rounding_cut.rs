//! Staves counted in whole units of width.
//!
//! The staves of some glued stretches are so wide together, and each board gives so much of that:
//! fractions of boards add up to it where whole boards are one more. Measured in units of width, what each
//! pattern gives counts as the next whole number; then what they give together is no less than the next
//! whole number of what is asked for, since whole numbers add up to one (rounding as in Gomory, *Outline of
//! an algorithm for integer solutions to linear programs*, Bull. Amer. Math. Soc. 64, 1958).

use crate::layout::model::problem::Problem;

/// Patterns give no fewer units of staves of some gluings than those ask for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::layout) struct RoundingCut {
    /// Gluings, and how many units each asks for where it is glued; in order.
    pub(in crate::layout) asks: Vec<(usize, i64)>,
    /// Nanometres of width.
    pub(in crate::layout) unit: i64,
}

impl RoundingCut {
    /// For a gluing, and another of other fronts if there is one: that one asks for what both ask for together
    /// and the first does not ask for alone, which is no more than it would ask for by itself.
    pub(in crate::layout) fn new(
        problem: &Problem,
        first: usize,
        other: Option<usize>,
        unit: i64,
    ) -> RoundingCut {
        let wide = |gluing: usize| problem.gluings[gluing].asked_width;
        let alone = units(wide(first), unit);
        let other = other.map(|gluing| (gluing, units(wide(first) + wide(gluing), unit) - alone));
        let mut asks: Vec<(usize, i64)> = [(first, alone)].into_iter().chain(other).collect();
        asks.sort_unstable();
        RoundingCut { asks, unit }
    }

    pub(in crate::layout) fn has(&self, gluing: usize) -> bool {
        self.asks.iter().any(|ask| ask.0 == gluing)
    }

    /// Units that staves `wide` together on one board count.
    pub(in crate::layout) fn units(&self, wide: i64) -> i64 {
        units(wide, self.unit)
    }

    /// Units that one board gives, by gluing and width of its staves.
    pub(in crate::layout) fn given(&self, staves: impl Iterator<Item = (usize, i64)>) -> i64 {
        let of = staves.filter(|&(gluing, _)| self.has(gluing));
        self.units(of.map(|(_, wide)| wide).sum())
    }
}

fn units(wide: i64, unit: i64) -> i64 {
    (wide + unit - 1) / unit
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::generate::Size;
    use crate::job::generate::generate;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]
        #[test]
        fn boards_give_what_is_asked_for_however_staves_are_shared_out(
            seed in 1_u64..20,
            picks in (0.0_f64..1.0, 0.0_f64..1.0),
            unit in 10_000_000_i64..400_000_000,
            glued in (any::<bool>(), any::<bool>()),
            shares in prop::collection::vec((0.0_f64..1.0, 0_usize..4), 8),
        ) {
            let job = generate(Size::CHEST, seed);
            let problem = Problem::new(&job, false);
            let count = problem.gluings.len();
            prop_assume!(count > 1);
            let pick = |share: f64| (share * count as f64) as usize;
            let (first, other) = (pick(picks.0), pick(picks.1));
            prop_assume!(first != other);
            let rounding = RoundingCut::new(&problem, first, Some(other), unit);
            // Staves on four boards, as wide together as a stretch that is glued must be.
            let mut boards = vec![Vec::new(); 4];
            let mut asked = 0;
            for (at, (gluing, glued)) in [(first, glued.0), (other, glued.1)].into_iter().enumerate() {
                if !glued {
                    continue;
                }
                asked += rounding.asks.iter().find(|ask| ask.0 == gluing).expect("it asks").1;
                let of = &problem.gluings[gluing];
                let mut left = of.total_width;
                for stave in 0..of.staves {
                    let (share, board) = shares[(4 * at + stave) % shares.len()];
                    let last = stave + 1 == of.staves;
                    let wide = if last { left } else { (left as f64 * share) as i64 };
                    left -= wide;
                    boards[board].push((gluing, wide));
                }
            }
            let given = boards.into_iter().map(|staves| rounding.given(staves.into_iter()));
            prop_assert!(given.sum::<i64>() >= asked);
        }
    }
}
