//! What is done and chalked already when a job is planned anew.

use crate::measure::{Length, Volume};

/// What planning must know of work in progress beyond the job itself. The default knows of none.
///
/// The job is the one still to be planned: pieces already cut off stand among its boards, and a
/// part of a run that is already made is one front pinned to a board of its own that nothing else
/// fits on, so that its tone and the breaks beside it count like any other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// How a board may be cut and what that counts, by index into [`Job::boards`](crate::job::Job::boards),
    /// where it is not a whole board: the wood of a piece left over from a board in use is spent already.
    pub counts: Vec<Option<Counts>>,
    /// The board each front is chalked on now, by index into [`Job::fronts`](crate::job::Job::fronts) and
    /// [`Job::boards`](crate::job::Job::boards).
    pub home: Vec<Option<usize>>,
    /// The ways fronts with a home may stay there.
    pub chalk: Vec<Chalk>,
    /// What it costs, in board feet, to make a front with a home elsewhere.
    pub moved: f64,
    /// What it costs, in board feet, to make a front on a board because of how unlike its
    /// neighbours the board is, by front, then by board; nothing where the list is empty.
    pub unlike: Vec<Vec<f64>>,
    /// Mean price of a board foot on offer when the job was begun; turns worths into money even
    /// when what was on offer is bought.
    pub mean_price: Option<f64>,
}

/// Neighbours chalked as one stretch, in run order, that may stay so on their home.
#[derive(Clone, Debug, PartialEq)]
pub struct Chalk {
    /// Indices into [`Job::fronts`](crate::job::Job::fronts).
    pub fronts: Vec<usize>,
    /// Their home, index into [`Job::boards`](crate::job::Job::boards).
    pub board: usize,
    /// Length and width of each piece of it that is free when they stay: no blank that is longer or
    /// wider has room beside them.
    pub room: Vec<(Length, Length)>,
}

/// How a piece left over from a board in use may be cut, and what that counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counts {
    /// What it is a part of.
    pub part: Part,
    /// Board feet that count as used when the piece is used and nothing of it is kept.
    pub whole: Volume,
    /// Whether what is kept of it counts as saved.
    pub kept: bool,
    /// Whether its hook end, and its far end, may be kept.
    pub ends: [bool; 2],
    /// Whether a board on offer is still to be paid for.
    pub price: bool,
}

/// What a piece of wood to be planned on is a part of, and so how it may be cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Part {
    /// A board, or a full-width length of one: sections are crosscut from it.
    #[default]
    Board,
    /// A width of a section: strips are ripped from it, each its full length.
    Section,
    /// A length of a strip: blanks are crosscut from it.
    Strip,
}

impl Part {
    /// Whether sections with so many strips each can be cut from such a piece. Sections of one strip
    /// each are as good as one strip with several blanks.
    pub(in crate::layout) fn allows(
        self,
        mut strips: impl ExactSizeIterator<Item = usize>,
    ) -> bool {
        match self {
            Part::Board => true,
            Part::Section if strips.len() == 1 => true,
            Part::Section | Part::Strip => strips.all(|strips| strips == 1),
        }
    }
}
