//! The kinds of boards.

use crate::layout::model::history::Part;
use crate::layout::model::saw_rules::SawRules;
use crate::layout::model::zone::Zone;

/// A one-piece item that may stay where it is chalked on a board.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Staying {
    pub(in crate::layout) item: usize,
    /// What it costs when it does not stay.
    pub(in crate::layout) moved: f64,
    /// Length and width of each piece of the board it leaves when it stays.
    pub(in crate::layout) room: Vec<(i64, i64)>,
}

/// One kind of board.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Stock {
    /// Index into `Job::boards`.
    pub(in crate::layout) board: usize,
    pub(in crate::layout) count: usize,
    pub(in crate::layout) length: i64,
    pub(in crate::layout) width: i64,
    /// Wood between the end trims.
    pub(in crate::layout) from: i64,
    pub(in crate::layout) to: i64,
    pub(in crate::layout) crook: f64,
    /// What it is a part of.
    pub(in crate::layout) part: Part,
    /// Whether the hook end and the far end may be kept.
    pub(in crate::layout) ends: [bool; 2],
    /// Cost of using the whole board.
    pub(in crate::layout) whole: f64,
    /// Cost given back for each square nanometre kept.
    pub(in crate::layout) kept_rate: f64,
    /// Index into `Problem::tones`.
    pub(in crate::layout) tone: usize,
    /// Index into the problem's looks.
    pub(in crate::layout) look: usize,
    /// Rectangles blanks must not overlap.
    pub(in crate::layout) zones: Vec<Zone>,
    /// Widths that a strip takes when it has a section to itself, in order.
    pub(in crate::layout) fulls: Vec<i64>,
    /// Whether some defect shows on one side only.
    pub(in crate::layout) one_sided: bool,
    /// Whether a piece can come out too thin.
    pub(in crate::layout) warped: bool,
    /// Whether each one-piece item comes out thick enough with its blanks as near as can be.
    pub(in crate::layout) flat: Vec<bool>,
    /// Widest blank each item may have here, 0 for items that do not fit: what is left after the
    /// edges, and for a stave what flattening allows.
    pub(in crate::layout) widest: Vec<i64>,
    /// What each item costs here at least because its fronts are chalked elsewhere or look different
    /// from their neighbours; empty when nothing does.
    pub(in crate::layout) moving: Vec<f64>,
    /// Items that may stay where they are chalked on such a board.
    pub(in crate::layout) staying: Vec<Staying>,
}

impl Stock {
    /// Free wood at either edge that no strip may use, in a section `long`.
    pub(in crate::layout) fn edge_loss(&self, cuts: &SawRules, long: i64) -> i64 {
        let share = long as f64 / self.length as f64;
        let lost = self.crook * share * share / 2.0;
        // Rounded up by hand: `f64::ceil` is a call where the processor is not known to round, and this is
        // asked for millions of times.
        let whole = lost as i64;
        cuts.edge + whole + i64::from((whole as f64) < lost)
    }

    /// Length between the trims.
    pub(in crate::layout) fn usable(&self) -> i64 {
        self.to - self.from
    }
}
