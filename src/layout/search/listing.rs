//! Lists of the patterns near their price, and the best plan made of them.

use crate::layout::master::columns::Columns;
use crate::layout::master::relax::Relaxation;
use crate::layout::master::solved::Relaxed;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::pricing::priced::Priced;
use crate::layout::search::dual_point::{base, most_together};
use crate::layout::search::list::list_search::{Beat, ListSearch};
use crate::layout::search::pricer::{MOST_NODES, Pricer};

/// What a pattern is worth over its price at least to be told apart from rounding.
const DEAR: f64 = 1e-6;

/// How far a list of patterns may go.
#[derive(Clone, Copy)]
pub(in crate::layout) struct ListLimit {
    /// Half-made patterns looked at for each board.
    pub(in crate::layout) nodes: usize,
    /// Patterns listed.
    pub(in crate::layout) patterns: usize,
    /// Batches of parts of the list looked at.
    pub(in crate::layout) batches: usize,
}

/// As far as a list goes at most, where plans cannot be split any further.
pub(in crate::layout) const LONG: ListLimit = ListLimit {
    nodes: MOST_NODES,
    patterns: 40_000,
    batches: usize::MAX,
};

/// What came of listing the patterns near their price.
pub(in crate::layout) struct Listed {
    /// A plan that beats the best known, if there is one among them.
    pub(in crate::layout) plan: Option<Vec<Pattern>>,
    /// No plan that beats it costs less.
    pub(in crate::layout) bound: f64,
    /// What patterns worth more than their price add.
    pub(in crate::layout) surplus: Surplus,
    /// Patterns worth more than their price.
    pub(in crate::layout) dear: Vec<Pattern>,
}

impl Pricer<'_, '_> {
    /// The best plan of the patterns that fall short of their price by less than `reach`, where a
    /// plan of patterns at their price costs `base`; nothing when there are too many.
    ///
    /// A plan costs at least the base plus, for each of its patterns, what that pattern falls
    /// short of its price. So a plan with a pattern left off the list costs at least the base plus as
    /// much as the list goes to, less what patterns of other boards are worth over their price. As far as
    /// that is known (`surplus`), a board's list goes further by it.
    pub(in crate::layout) fn list(
        &self,
        relaxed: &Relaxed,
        relaxation: Relaxation,
        (reach, surplus): (f64, &Surplus),
        limit: ListLimit,
        beat: Beat,
        bound: f64,
    ) -> Option<Listed> {
        let unlike = |board: usize| surplus.total() - surplus.of(board);
        let reaches = (0..self.problem.stock.len()).map(|board| reach + unlike(board));
        let least: Vec<f64> = reaches.map(|reach| -reach).collect();
        let priced = self.each(relaxed, &least, (limit.nodes, limit.patterns), true);
        if !priced.iter().all(|p| p.complete) {
            return None;
        }
        let mut columns = Columns::default();
        let mut enter = |sure: bool| {
            let found = priced.iter().flat_map(|p| &p.found);
            for valued in found.filter(|v| v.sure == sure) {
                columns.add(self.problem, &valued.pattern);
                if columns.len() > limit.patterns {
                    return None;
                }
            }
            Some(columns.len())
        };
        // Where the best arrangement is not sure, the hoped-for one stands in for it.
        let unsure = enter(false)?;
        enter(true)?;
        let found = priced.iter().flat_map(|p| &p.found);
        let dear = found.filter(|v| v.sure && v.value > DEAR);
        let dear = dear.map(|v| v.pattern.clone()).collect();
        let found = Surplus::new(self.problem, relaxed, &priced);
        let search = ListSearch::new(self.problem, &columns, unsure, relaxation, beat, &self.stop);
        let outcome = search.at_most(limit.batches).search(bound, relaxed);
        // What another board adds more than was said when the list was made is missing in its reach.
        let missing = (0..priced.len())
            .map(|board| (found.total() - found.of(board)) - (surplus.total() - surplus.of(board)))
            .fold(0.0, f64::max);
        let end = base(self.problem, relaxed) + reach - missing;
        Some(Listed {
            plan: outcome
                .found
                .map(|found| columns.pick(self.problem, &found)),
            bound: outcome.bound.min(end),
            surplus: found,
            dear,
        })
    }
}

/// Most that patterns worth more than their price bring a plan below its base: the relaxation
/// knows none, but for rounding, other than those only hoped for and those with staves of a width that is
/// not tried in prices.
#[derive(Clone, Default)]
pub(in crate::layout) struct Surplus {
    total: f64,
    /// One board of each kind.
    each: Vec<f64>,
}

impl Surplus {
    fn new(problem: &Problem, relaxed: &Relaxed, priced: &[Priced]) -> Surplus {
        let worth = priced.iter().map(|p| p.upper * relaxed.wood);
        Surplus {
            total: most_together(problem, worth.clone().collect()),
            each: worth.map(|worth| worth.max(0.0)).collect(),
        }
    }

    pub(in crate::layout) fn total(&self) -> f64 {
        self.total
    }

    fn of(&self, board: usize) -> f64 {
        self.each.get(board).copied().unwrap_or(0.0)
    }
}
