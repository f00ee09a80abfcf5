//! Some of all plans.

use crate::layout::master::columns::Columns;
use crate::layout::master::relax::Relaxation;
use crate::layout::master::solved::Solved;
use crate::layout::model::problem::Problem;
use crate::layout::search::dual_point::DualPoint;

/// Half-made patterns looked at for each board: where that is not enough, parts of the part are priced
/// sooner.
pub(in crate::layout) const NODES: usize = 320_000;

/// Some of all plans.
pub(in crate::layout) struct Node<'a> {
    pub(in crate::layout) problem: Problem<'a>,
    pub(in crate::layout) columns: Columns,
    pub(in crate::layout) relaxation: Relaxation,
    /// Best prices of the part it was split from.
    pub(in crate::layout) prices: Option<DualPoint>,
    /// Its relaxation, where that is known.
    pub(in crate::layout) solved: Option<Solved>,
    /// Half-made patterns looked at for each board.
    pub(in crate::layout) most_walked: usize,
    /// Questions answered.
    pub(in crate::layout) depth: usize,
    /// Whether no question is left: only a long list can tell more. It waits until its bound is the
    /// least; a better plan may spare it.
    pub(in crate::layout) last: bool,
    pub(in crate::layout) bound: f64,
}
