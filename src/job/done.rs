//! What has been done in the shop so far, as `done.csv` tells it.

use crate::measure::Length;

/// What has been done so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Done {
    /// Front by front, by index into [`Job::fronts`](super::Job::fronts); fronts past its end are
    /// untouched.
    pub fronts: Vec<FrontDone>,
    /// Boards cut through, in file order.
    pub crosscuts: Vec<Crosscut>,
    /// Whether a plan was made anew over earlier marks, which are put aside since.
    pub anew: bool,
}

/// What became of one front.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FrontDone {
    /// How far its present blank has come.
    pub now: Option<Finished>,
    /// How many blanks cut for it were spoiled.
    pub spoiled: u32,
}

/// How far a blank has come that is not spoiled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Finished {
    /// Cut from its board.
    Cut,
    /// Milled and sized: the front is there.
    Made,
}

/// One cut through a board's whole width, wherever the plan has it or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Crosscut {
    /// Index into [`Job::boards`](super::Job::boards).
    pub board: usize,
    /// The copy that was cut.
    pub copy: u32,
    /// The line the saw followed, from the hook end; the kerf lies beyond it.
    pub at: Length,
}

impl Done {
    /// What became of a front.
    pub fn front(&self, index: usize) -> FrontDone {
        self.fronts.get(index).copied().unwrap_or_default()
    }

    /// Whether nothing has been touched yet.
    pub fn is_empty(&self) -> bool {
        self.crosscuts.is_empty() && self.fronts.iter().all(|f| *f == FrontDone::default())
    }
}
