//! The plan's own types. Coordinates are always those of the measured board.

use crate::job::DefectSide;
use crate::measure::{Length, Volume};

/// A whole plan. Indices point into the [`Job`](crate::job::Job) it was made for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// The figures of the whole.
    pub totals: Totals,
    /// One entry a used board, by position in `Job::boards`, then copy.
    pub boards: Vec<BoardPlan>,
    /// Fronts this plan does not make.
    pub not_made: Vec<NotMade>,
}

/// The figures of a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Totals {
    /// Fronts in the job.
    pub fronts: usize,
    /// Fronts the plan makes.
    pub made: usize,
    /// Boards cut.
    pub boards_used: usize,
    /// Board feet of used boards less kept pieces.
    pub feet_used: Volume,
    /// Board feet of the finished fronts made, at their board's thickness.
    pub feet_fronts: Volume,
    /// Board feet of kept pieces.
    pub feet_kept: Volume,
    /// `feet_fronts / feet_used`.
    pub yield_share: f64,
    /// Spots where a run's grain does not carry through.
    pub breaks: usize,
    /// Glue lines, counted a front.
    pub glue_lines: usize,
    /// Logs beyond the first that a run is cut from, summed over the runs.
    pub mixed_logs: usize,
    /// Ways of sawing beyond the first, likewise.
    pub mixed_cuts: usize,
    /// Sum over runs of darkest less palest board tone.
    pub tone_run: f64,
    /// Darkest less palest tone over all used boards.
    pub tone_case: f64,
    /// What the plan costs (board feet, or money when planned by money).
    pub cost: f64,
    /// No plan costs less than this.
    pub bound: f64,
    /// `(cost - bound) / cost`.
    pub gap: f64,
    /// Whether the gap is below 1e-6.
    pub proved: bool,
    /// Seconds the search took.
    pub seconds: f64,
    /// Money figures, when planned by money.
    pub money: Option<Money>,
    /// How it reads in its boards' photographs, where they show a joint.
    pub reads: Option<Reads>,
}

/// How well the facing edges of all joints that photographs show agree: the mean difference, in dE00.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reads {
    /// Of this plan.
    pub now: f64,
    /// Of the plan of equal cost that was found first.
    pub first: f64,
}

/// What a plan costs in money.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Money {
    /// Price of the offered boards bought.
    pub buy: f64,
    /// What the owned board feet count.
    pub owned: f64,
    /// Mean price of a board foot on offer, which turns worths into money.
    pub mean_price: f64,
}

/// How one board is cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BoardPlan {
    /// Index into `Job::boards`.
    pub board: usize,
    /// Which copy, one of `Board::copies`.
    pub copy: u32,
    /// Pieces that go back on the rack.
    pub kept: Vec<Kept>,
    /// Crosscut lengths, from the hook end on.
    pub sections: Vec<Section>,
}

/// A full-width end or a full-length edge that goes back on the rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kept {
    /// Start along the board.
    pub from: Length,
    /// End along the board.
    pub to: Length,
    /// Start across the board.
    pub low: Length,
    /// End across the board.
    pub high: Length,
}

/// A crosscut length of a board, its full width.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// Start along the board.
    pub from: Length,
    /// End along the board.
    pub to: Length,
    /// Ripped widths, from the near edge on.
    pub strips: Vec<Strip>,
}

/// A ripped width of a section, its full length.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Strip {
    /// Start across the board.
    pub low: Length,
    /// End across the board.
    pub high: Length,
    /// Rough pieces, from the hook end on.
    pub blanks: Vec<Blank>,
}

/// The rough piece one front, or one stave of it, is milled from.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// Index into `Job::fronts`.
    pub front: usize,
    /// Which stave, counted from 1 (1 when in one piece).
    pub stave: u32,
    /// How many staves the front is glued from (1 when in one piece).
    pub staves: u32,
    /// Which stretch of its run it is in, counted from 1 along the run.
    pub stretch: u32,
    /// Start along the board.
    pub from: Length,
    /// End along the board.
    pub to: Length,
    /// Start across the board.
    pub low: Length,
    /// End across the board.
    pub high: Length,
    /// The end of the board the front's left side (bottom, for vertical grain) faces.
    pub left: End,
    /// The side of the board that shows on the front.
    pub face: Face,
}

/// An end of a board.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum End {
    /// Where the tape is hooked.
    #[default]
    Hook,
    /// The other one.
    Far,
}

/// A side of a board.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum Face {
    /// The side that was up when the board was measured.
    #[default]
    Up,
    /// The other one.
    Down,
}

impl Face {
    /// Whether what a board has on `side` shows here: a defect that goes through shows on both faces.
    pub fn shows(self, side: DefectSide) -> bool {
        match side {
            DefectSide::Both => true,
            DefectSide::Up => self == Face::Up,
            DefectSide::Down => self == Face::Down,
        }
    }
}

/// A front the plan does not make, why, and what would cure it.
#[derive(Clone, Debug, PartialEq)]
pub struct NotMade {
    /// Index into `Job::fronts`.
    pub front: usize,
    /// The reason that binds.
    pub why: String,
    /// The least board that would cure it.
    pub buy: String,
}
