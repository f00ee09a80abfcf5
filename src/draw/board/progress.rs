//! Work in progress on a board: what is gone from it, what stays chalked, what is new.

use crate::plan::{Blank, BoardPlan, Fate, Sawn, SawnPiece};

/// How far the work is, for diagrams of a plan made after the saw had begun.
#[derive(Clone, Copy, Debug)]
pub struct Progress<'a> {
    /// What the saw has done.
    pub sawn: &'a Sawn,
    /// Fronts whose chalk is not on the boards yet, by index into
    /// [`Job::fronts`](crate::job::Job::fronts).
    pub anew: &'a [usize],
}

/// How far one piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Cut from the board, or made.
    Gone(&'static str),
    /// Chalked already.
    Stays,
    /// To be chalked.
    New,
}

impl Status {
    /// Its front is made.
    pub const MADE: Status = Status::Gone("made");
    /// It is cut from its board.
    pub const CUT: Status = Status::Gone("cut");

    /// The word on the piece.
    pub fn word(self) -> &'static str {
        match self {
            Status::Gone(word) => word,
            Status::Stays => "stays",
            Status::New => "new",
        }
    }
}

impl<'a> Progress<'a> {
    /// How far a blank of the plan is.
    pub fn status(&self, blank: &Blank) -> Status {
        let piece = self
            .sawn
            .standing()
            .find(|piece| (piece.blank.front, piece.blank.stave) == (blank.front, blank.stave));
        match piece.map(|piece| piece.fate) {
            Some(Fate::Made) => Status::MADE,
            Some(_) => Status::CUT,
            None if self.anew.contains(&blank.front) => Status::New,
            None => Status::Stays,
        }
    }

    /// The blanks of a board that were lost.
    pub fn lost(&self, cut: &BoardPlan) -> impl Iterator<Item = &'a SawnPiece> {
        let on = (cut.board, cut.copy);
        let pieces = self.sawn.pieces.iter();
        pieces.filter(move |piece| !piece.stands() && (piece.board, piece.copy) == on)
    }
}
