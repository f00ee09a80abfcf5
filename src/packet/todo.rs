//! What of a plan is still to be done, when the saw had begun before it was made.

use crate::draw::{Progress, Status};
use crate::plan::{Blank, BoardPlan, SawnPiece, Section, Strip};

/// What is still to be done; all of it without progress.
#[derive(Clone, Copy, Debug, Default)]
pub struct Todo<'a>(Option<&'a Progress<'a>>);

impl<'a> Todo<'a> {
    /// All that `progress` does not tell to be done.
    pub fn after(progress: Option<&'a Progress<'a>>) -> Todo<'a> {
        Todo(progress)
    }

    /// Whether the saw has begun.
    pub fn is_begun(self) -> bool {
        self.0.is_some_and(|progress| !progress.sawn.is_empty())
    }

    /// What was cut from a board, good or spoiled.
    fn sawn(self, cut: &BoardPlan) -> impl Iterator<Item = &'a SawnPiece> {
        let on = (cut.board, cut.copy);
        let pieces = self
            .0
            .into_iter()
            .flat_map(|progress| &progress.sawn.pieces);
        pieces.filter(move |piece| (piece.board, piece.copy) == on)
    }

    /// Whether a section is still to be crosscut from its board.
    pub fn section(self, cut: &BoardPlan, section: &Section) -> bool {
        let ends = (section.from, section.to);
        self.sawn(cut).all(|piece| piece.section != ends)
    }

    /// Whether a strip is still to be ripped from its section.
    pub fn strip(self, cut: &BoardPlan, section: &Section, strip: &Strip) -> bool {
        let place = ((section.from, section.to), (strip.low, strip.high));
        self.sawn(cut)
            .all(|piece| (piece.section, piece.strip) != place)
    }

    /// Whether a piece is still to be cut from its strip.
    pub fn piece(self, blank: &Blank) -> bool {
        !matches!(self.status(blank), Some(Status::Gone(_)))
    }

    /// Whether a piece, cut or not, is still to become a front.
    pub fn front(self, blank: &Blank) -> bool {
        self.status(blank) != Some(Status::MADE)
    }

    /// How far a piece is, once the saw has begun.
    pub fn status(self, blank: &Blank) -> Option<Status> {
        self.0.map(|progress| progress.status(blank))
    }
}
