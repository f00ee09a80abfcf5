//! What is to be packed, and what has been.

use std::sync::Arc;

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::packing::sheet::{Blank, Sheet};
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;

/// What is to be packed, and into what.
pub(in crate::layout) struct Task<'t, 'a> {
    pub(in crate::layout) problem: &'t Problem<'a>,
    /// One-piece items to be cut, each once.
    pub(in crate::layout) items: Vec<usize>,
    /// Kinds of the boards to cut them from, one entry a board.
    pub(in crate::layout) boards: Vec<usize>,
}

/// Sheets, and what none of them holds.
#[derive(Clone)]
pub(in crate::layout) struct Packing<'s> {
    pub(in crate::layout) sheets: Vec<Arc<Sheet<'s>>>,
    pub(in crate::layout) out: Vec<Blank>,
}

impl<'s> Packing<'s> {
    pub(in crate::layout) fn patterns(
        &self,
        problem: &Problem,
        costs: &Costs,
    ) -> Option<Vec<Pattern>> {
        let used = self
            .sheets
            .iter()
            .filter(|sheet| !sheet.sections.is_empty());
        used.map(|sheet| {
            let shape = sheet.shape();
            // Sheets know of clear boards all there is to know.
            let stock = sheet.stock.board;
            let wood = costs.wood(problem, stock, &shape)?;
            Some(Pattern { stock, shape, wood })
        })
        .collect()
    }
}
