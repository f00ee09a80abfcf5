//! What is kept beside and after the sections cut so far, at most.

use crate::layout::geometry::placed::{edge, edge_past};
use crate::layout::pricing::explore::lane::Lane;
use crate::layout::pricing::explore::walk::Walk;

/// What is left of the board behind a section.
pub(in crate::layout) struct Behind {
    left: i64,
    /// Most it is worth where none of it goes to an edge.
    worth: f64,
}

impl Walk<'_, '_> {
    /// What is left of the board behind a section at least `long`.
    pub(in crate::layout) fn behind(&self, lane: &Lane, long: i64) -> Behind {
        let left = lane.section_left - long - self.problem.cuts.crosscut;
        Behind {
            left: left.max(0),
            worth: self.tables.board_after(left),
        }
    }

    /// Most that what comes after a section adds, with the edges already kept.
    pub(in crate::layout) fn after_section(&self, lane: &Lane, behind: &Behind) -> f64 {
        let wide = self.stock.width - 2 * self.problem.cuts.edge - lane.wide_left;
        let stretch = self.stretch_rate(wide, lane.widest);
        if stretch == 0.0 || behind.left == 0 {
            return lane.edges + behind.worth;
        }
        lane.edges + self.tables.board_or_edge(behind.left, stretch)
    }

    /// Most that a nanometre of unused board is worth to the edge kept beside this section, with
    /// strips `wide` so far, or beside an earlier one, where `widest` may be kept.
    pub(in crate::layout) fn stretch_rate(&self, wide: i64, widest: f64) -> f64 {
        let Some(loss) = self.loss else {
            return 0.0;
        };
        let here = edge_past(self.stock, &self.problem.cuts, wide, loss);
        (here as f64).max(widest) * self.stock.kept_rate
    }

    /// Value of the edges kept beside the sections closed so far, each at least long enough.
    pub(in crate::layout) fn edges_kept(&self) -> f64 {
        let Some(keep) = self.problem.cuts.keep_length else {
            return 0.0;
        };
        self.outline
            .iter()
            .map(|&(long, wide)| {
                // The longer a section, the narrower its edges.
                let spare = edge(self.stock, &self.problem.cuts, wide, long.max(keep));
                spare as f64 * long.max(keep) as f64 * self.stock.kept_rate
            })
            .sum()
    }

    /// Most that `left` nanometres of board are worth uncut, kept as they are or with an edge.
    pub(in crate::layout) fn unused(&self, left: i64) -> f64 {
        let wide = self.widest_edge().max(self.stock.width as f64);
        wide * self.stock.kept_rate * left.max(0) as f64
    }

    pub(in crate::layout) fn widest_edge(&self) -> f64 {
        if self.problem.cuts.keep_length.is_none() {
            return 0.0;
        }
        self.outline
            .iter()
            .map(|&(long, wide)| edge(self.stock, &self.problem.cuts, wide, long))
            .max()
            .unwrap_or(0) as f64
    }
}
