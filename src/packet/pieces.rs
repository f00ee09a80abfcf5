//! Every blank of a plan with where it lies, for whoever walks the plan piece by piece.

use crate::draw::board_name;
use crate::job::{Front, Job};
use crate::plan::{Blank, BoardPlan, Plan, Section, Strip};
use crate::work::piece_name;

/// A blank with all it lies in.
#[derive(Clone, Copy, Debug)]
pub struct PieceOf<'a> {
    /// The job.
    pub job: &'a Job,
    /// The board, as cut.
    pub cut: &'a BoardPlan,
    /// Its section, and the section's number.
    pub section: (usize, &'a Section),
    /// Its strip, and the strip's number.
    pub strip: (usize, &'a Strip),
    /// The blank.
    pub blank: &'a Blank,
}

impl<'a> PieceOf<'a> {
    /// All blanks of a plan, board by board.
    pub fn all(job: &'a Job, plan: &'a Plan) -> Vec<PieceOf<'a>> {
        let boards = plan.boards.iter();
        boards.flat_map(|cut| PieceOf::of_board(job, cut)).collect()
    }

    /// The blanks of one board, section by section and strip by strip.
    pub fn of_board(job: &'a Job, cut: &'a BoardPlan) -> Vec<PieceOf<'a>> {
        let mut all = Vec::new();
        for (s, section) in cut.sections.iter().enumerate() {
            for (r, strip) in section.strips.iter().enumerate() {
                all.extend(strip.blanks.iter().map(|blank| PieceOf {
                    job,
                    cut,
                    section: (s + 1, section),
                    strip: (r + 1, strip),
                    blank,
                }));
            }
        }
        all
    }

    /// The front it becomes, whole or in part.
    pub fn front(&self) -> &'a Front {
        &self.job.fronts[self.blank.front]
    }

    /// Its name: the front's, with the stave if there are several.
    pub fn name(&self) -> String {
        piece_name(&self.front().name, self.blank)
    }

    /// Where it lies in words: board, section and strip.
    pub fn place(&self) -> String {
        let board = board_name(self.job, self.cut);
        format!(
            "{board}, section {}, strip {}",
            self.section.0, self.strip.0
        )
    }
}
