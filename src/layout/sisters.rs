//! Whether the staves of a front can be wide enough together.
//!
//! A pattern with some staves of a mode leaves the others to other boards, and those are only so wide.
//! Where that is too narrow together, no plan has the pattern. The relaxation would cut half of it: what
//! it lacks, half of a pattern with wider staves than anyone needs makes up for.

use super::pattern::{Pattern, staves_of};
use super::place::Shape;
use super::problem::Problem;

/// The widest staves that other boards than one have for some modes.
pub(super) struct Sisters {
    /// By mode.
    widest: Vec<i64>,
}

impl Sisters {
    /// Those of `modes`, to go with what a board of kind `stock` has.
    pub(super) fn of(
        problem: &Problem,
        stock: usize,
        modes: impl Iterator<Item = usize>,
    ) -> Sisters {
        let mut widest = vec![0; problem.modes.len()];
        for mode in modes {
            let item = problem.modes[mode].item;
            let others = problem.stock.iter().enumerate();
            let others = others.filter(|&(other, s)| other != stock || s.count > 1);
            let most = others.map(|(_, s)| s.widest[item]).max().unwrap_or(0);
            widest[mode] = most.min(problem.modes[mode].widest);
        }
        Sisters { widest }
    }

    /// Whether `count` staves of a mode, `wide` together, can be part of it when the others are from
    /// other boards, or at most `here` wide.
    pub(super) fn enough(
        &self,
        problem: &Problem,
        mode: usize,
        (count, wide): (usize, i64),
        here: i64,
    ) -> bool {
        let mode_of = &problem.modes[mode];
        let lacking = mode_of.staves.saturating_sub(count) as i64;
        wide + lacking * self.widest[mode].max(here) >= mode_of.total_width
    }

    /// Whether all staves of a pattern `shape` on a board of kind `stock` can be part of their modes.
    pub(super) fn complete(&self, problem: &Problem, stock: usize, shape: &Shape) -> bool {
        let mut staves: Vec<(usize, i64)> = staves_of(problem, stock, shape).collect();
        staves.sort_unstable();
        staves
            .chunk_by(|a, b| a.0 == b.0)
            .all(|of| {
                let wide = of.iter().map(|stave| stave.1).sum();
                self.enough(problem, of[0].0, (of.len(), wide), 0)
            })
    }
}

/// Whether a plan can have `pattern`.
pub(super) fn complete(problem: &Problem, pattern: &Pattern) -> bool {
    let modes = pattern.items().filter_map(|item| problem.items[item].mode);
    Sisters::of(problem, pattern.stock, modes).complete(problem, pattern.stock, &pattern.shape)
}
