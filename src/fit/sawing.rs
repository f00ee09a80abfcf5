//! How each front's wood is sawn: what is written, what its size was reckoned with, and what the
//! board says that it is cut from.

use crate::job::{Board, Front, Job, Opening};
use crate::wood::{self, Cut, Species};

/// What a plan says of each front's wood, by index into `Job::fronts`. Empty without a plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sawing {
    /// The boards it is cut from, by index into `Job::boards`: one, or its staves'.
    pub boards: Vec<Vec<usize>>,
    /// How its wood was taken to be sawn when its size was planned; when nothing is known, its
    /// size goes by the boards.
    pub reckoned: Vec<Option<Cut>>,
}

/// How one front's wood is sawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Sawn<'a> {
    /// What its size is reckoned with.
    pub size: Option<Cut>,
    /// What moves it through the year.
    pub real: Option<Cut>,
    /// The board that says so.
    pub board: Option<&'a Board>,
    /// What the maker wrote of the front's wood.
    pub typed: Option<Cut>,
}

impl Sawing {
    /// What is known of one front: its boards first, those of the plan or the one it must come
    /// from; else what is written beside its opening.
    pub(super) fn of<'a>(&self, job: &'a Job, index: usize, opening: Option<&Opening>) -> Sawn<'a> {
        let front = &job.fronts[index];
        let typed = opening.and_then(|o| o.cut);
        let planned = self.boards.get(index).map_or(&[][..], Vec::as_slice);
        let planned = planned.iter().map(|&board| &job.boards[board]);
        let asked = pinned(job, front).filter(|_| planned.len() == 0);
        let known = planned.chain(asked).filter(|board| board.cut.is_some());
        let species = wood::find(&job.settings.species).ok();
        // Of several staves the one that moves the most is reckoned with.
        let board = known.max_by(|a, b| moves(species, a.cut).total_cmp(&moves(species, b.cut)));
        let real = board.and_then(|board| board.cut).or(typed);
        let reckoned = self.reckoned.get(index).copied().flatten();
        Sawn {
            size: reckoned.or(real),
            real,
            board,
            typed,
        }
    }
}

/// The board a front must come from.
pub(super) fn pinned<'a>(job: &'a Job, front: &Front) -> Option<&'a Board> {
    let wanted = front.only_board()?;
    job.boards.iter().find(|board| board.id == wanted)
}

fn moves(species: Option<&Species>, cut: Option<Cut>) -> f64 {
    match (species, cut) {
        (Some(species), Some(cut)) => wood::change_per_percent(species, cut),
        _ => 0.0,
    }
}
