//! A maker's job: boards, fronts and settings, read from a folder and checked at the door.

mod board;
mod choice;
mod done;
mod edit;
mod fault;
mod files;
mod fitting;
mod front;
// Made of what everyone else has too: it is shared with the tests and benchmarks outside.
#[cfg(test)]
#[path = "../../tests/common/generate.rs"]
#[allow(dead_code)]
pub(crate) mod generate;
#[cfg(test)]
mod generate_tests;
mod grade;
mod photo;
mod read;
mod settings;
mod standing;
mod table;
mod wish;

pub use crate::wood::Cut;
pub use board::{Board, Defect, DefectKind, DefectSide};
pub use choice::Choice;
pub use done::{Crosscut, Done, Finished, FrontDone};
pub use edit::{
    CornersMark, DefectMark, columns_of, edit_table, mark_anew, mark_corners, mark_crosscut,
    mark_defect, mark_front, mark_tone, mark_wishes, set_key, unmark_anew,
};
pub use fault::{Fault, Faults, Place, Shown, Source, Trouble, Weight};
pub(crate) use files::read_plain;
pub use files::{
    BOARDS_CSV, DEFECTS_CSV, DONE_CSV, FRONTS_CSV, FileTrouble, JOB_TOML, JobFiles, OPENINGS_CSV,
    PHOTOS_CSV, PHOTOS_JSON, WISHES_CSV,
};
pub use fitting::{
    Anchor, BevelRule, BevelSize, Climate, Edge, Edges, Fitting, FittingTrouble, Gaps, Level,
    Measure, Measured, Mode, Opening, OwnBevel, Places, PullRule, SharedArch, Sled, Today,
    blade_reach, thin_edge,
};
pub use front::{Front, Grain, Run, Shape, Stand};
pub use grade::{ClearFace, Grade};
pub use photo::{Photo, PhotoSide};
pub use read::{
    BoardTrouble, CaseTrouble, DefectTrouble, DoneTrouble, FrontTrouble, Needs, NoBoard,
    OpeningTrouble, PhotoTrouble, Reading, Slip, read,
};
pub use settings::{
    Allowances, Between, Case, Cells, Glue, KeyTrouble, Keys, Labels, MOST_LOOKED_THROUGH,
    Machines, Mix, OnSale, PhotoSettings, PricedBy, Pricing, Section, Settings, Sheet, Span, Worth,
    Yard, YardTrouble,
};
pub use table::{Cell, CellTrouble, Columns, Grid, GridRow, Line, Table, TableEdit, TableTrouble};

pub use wish::{Asks, Wish, WishTrouble};

use crate::measure::{Length, Volume};

/// Everything a plan is made from. Built only by checked readers, so what is in it fits together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Job {
    /// The settings of `job.toml`.
    pub settings: Settings,
    /// Board kinds in file order. Copies that carry different defects are separate kinds.
    pub boards: Vec<Board>,
    /// Fronts in file order, counted fronts written out one by one.
    pub fronts: Vec<Front>,
    /// Runs, in the order their first front stands in the file. Every front is in exactly one.
    pub runs: Vec<Run>,
    /// Measured openings, at most one a front.
    pub openings: Vec<Opening>,
}

impl Job {
    /// The volume of a piece as this job counts it, in board feet or litres.
    pub fn volume(&self, length: Length, width: Length, thickness: Length) -> Volume {
        self.settings.volume(length, width, thickness)
    }

    /// The volume of one whole copy of a board.
    pub fn volume_of(&self, board: &Board) -> Volume {
        board.volume(self.settings.unit)
    }

    /// The run a front belongs to and its position in it, by index into `runs` and `Run::fronts`.
    ///
    /// # Panics
    /// When `front` is not an index into `fronts`, or the runs do not cover the fronts.
    pub fn place_of(&self, front: usize) -> (usize, usize) {
        self.runs
            .iter()
            .enumerate()
            .find_map(|(run, r)| Some((run, r.fronts.iter().position(|&f| f == front)?)))
            .expect("every front is in a run")
    }
}
