//! What of a plan is still to be done, when the saw had begun before it was made.

use crate::draw::{Progress, Status};
use crate::job::Job;
use crate::plan::{Blank, BoardPlan, Sawn};
use crate::work::BoardWork;

/// What is still to be done; all of it without progress.
#[derive(Clone, Copy, Debug, Default)]
pub struct Todo<'a>(Option<&'a Progress<'a>>);

impl<'a> Todo<'a> {
    /// All that `progress` does not tell to be done.
    pub fn after(progress: Option<&'a Progress<'a>>) -> Todo<'a> {
        Todo(progress)
    }

    /// What the saw has done.
    pub fn sawn(self) -> Option<&'a Sawn> {
        self.0.map(|progress| progress.sawn)
    }

    /// Whether the saw has begun.
    pub fn is_begun(self) -> bool {
        self.0.is_some_and(|progress| !progress.sawn.is_empty())
    }

    /// The work on a board, in order, after what is done.
    pub fn work<'p>(self, job: &Job, cut: &'p BoardPlan) -> BoardWork<'p> {
        BoardWork::of(job, cut, self.sawn())
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
