//! What is to be known of the boards in use.

use crate::job::{DefectKind, Job};
use crate::plan::Plan;

/// Whether a board that is cut bears a defect that can break loose.
pub fn has_checks(job: &Job, plan: &Plan) -> bool {
    let boards = plan.boards.iter().map(|cut| &job.boards[cut.board]);
    boards.flat_map(|board| &board.defects).any(|defect| {
        matches!(
            defect.kind,
            DefectKind::Check | DefectKind::Split | DefectKind::Knot | DefectKind::Pith
        )
    })
}
