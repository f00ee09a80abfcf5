//! One kind of rough board and the defects on it.

use super::Allowances;
use crate::measure::{BoardFeet, Length, Tone, Unit, Volume};
use crate::wood::Cut;

/// One kind of rough board, and which copies of it lie in the pile.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Board {
    /// The name in `boards.csv`.
    pub id: String,
    /// Numbers of the identical copies this kind stands for, counted from 1.
    ///
    /// A row whose copies carry different defects becomes several kinds with the same `id`.
    pub copies: Vec<u32>,
    /// Along the grain, from the hook end.
    pub length: Length,
    /// Across the grain, from the near edge.
    pub width: Length,
    /// Rough thickness.
    pub thickness: Length,
    /// How dark it is.
    pub tone: Tone,
    /// The words its maker wrote for its tone; nothing when it was a number or left to photographs.
    pub tone_words: String,
    /// Whether its photographs tell its tone.
    pub tone_by_photo: bool,
    /// The log it was sawn from, shared by its sisters.
    pub log: Option<String>,
    /// How it was sawn.
    pub cut: Option<Cut>,
    /// Whether it is left out of every plan.
    pub left_out: bool,
    /// Trimmed off its hook end, where that is not the job's `end_trim`.
    pub trim_hook: Option<Length>,
    /// Trimmed off its far end, where that is not the job's `end_trim`.
    pub trim_far: Option<Length>,
    /// Hollow along the whole board's length.
    pub bow: Length,
    /// Hollow across the whole board's width.
    pub cup: Length,
    /// Wind over the whole board.
    pub twist: Length,
    /// Sideways bend over the whole board's length.
    pub crook: Length,
    /// Measured moisture content, per cent.
    pub moisture: Option<f64>,
    /// Price of a board foot, or of a litre in a metric job; a board with a price is on offer, one
    /// without is owned.
    pub price: Option<f64>,
    /// A photograph's file name.
    pub photo: Option<String>,
    /// Whatever the maker wrote.
    pub notes: String,
    /// What is wrong with it, and where.
    pub defects: Vec<Defect>,
}

/// A rectangle of a board that no blank may come near.
#[derive(Clone, Debug, PartialEq)]
pub struct Defect {
    /// What it is.
    pub kind: DefectKind,
    /// Start along the board, from the hook end.
    pub from: Length,
    /// End along the board, from the hook end.
    pub to: Length,
    /// Start across the board, from the near edge.
    pub low: Length,
    /// End across the board, from the near edge.
    pub high: Length,
    /// Which face shows it.
    pub side: DefectSide,
    /// Whatever the maker wrote.
    pub notes: String,
}

/// What a defect is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum DefectKind {
    /// A knot.
    Knot,
    /// A check: a crack along the grain from drying.
    Check,
    /// A split through the board.
    Split,
    /// Bark or missing wood at an edge.
    Wane,
    /// Sapwood.
    Sap,
    /// Pith.
    Pith,
    /// A stain.
    Stain,
    /// A hole.
    Hole,
    /// Anything else.
    Other,
}

/// Which face of the board a defect shows on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum DefectSide {
    /// Goes through.
    #[default]
    Both,
    /// On the side that was up when the board was measured.
    Up,
    /// On the other side.
    Down,
}

impl Board {
    /// Trimmed off its hook end and its far end, in a job with these allowances.
    pub fn trims(&self, allowances: &Allowances) -> [Length; 2] {
        [self.trim_hook, self.trim_far].map(|own| own.unwrap_or(allowances.end_trim))
    }

    /// Where the wood between its trims begins and ends, from the hook end; nothing is left of a board that
    /// ends before it begins.
    pub fn between_trims(&self, allowances: &Allowances) -> (Length, Length) {
        let [hook, far] = self.trims(allowances);
        (hook, self.length - far)
    }

    /// Length between its trims, nothing at least.
    pub fn clear_length(&self, allowances: &Allowances) -> Length {
        let (from, to) = self.between_trims(allowances);
        (to - from).at_least_zero()
    }

    /// Exact board feet of one whole copy, whatever its job counts in: for that see
    /// [`Board::volume`].
    pub fn feet(&self) -> BoardFeet {
        BoardFeet::of_piece(self.length, self.width, self.thickness)
    }

    /// The volume of one whole copy, as a job in `unit` counts it.
    pub fn volume(&self, unit: Unit) -> Volume {
        Volume::of_piece(unit, self.length, self.width, self.thickness)
    }
}
