//! One board of a plan, with what is needed to say anything about it.

use super::progress::{Progress, Status};
use crate::draw::theme;
use crate::job::{Board, Front, Grain, Job};
use crate::measure::{Length, Ruler, Unit, Volume};
use crate::plan::{Blank, BoardPlan, End, Face, Plan, placed};
use crate::work::{BoardWork, stave_share, stave_span};

/// One board of a plan, seen from the side that was up when it was measured.
#[derive(Clone, Copy)]
pub struct View<'a> {
    /// The job.
    pub job: &'a Job,
    /// The whole plan.
    pub plan: &'a Plan,
    /// How the board is cut.
    pub cut: &'a BoardPlan,
    /// The board itself.
    pub board: &'a Board,
    /// How lengths are written.
    pub ruler: Ruler,
    /// Width of the sheet, in points.
    pub width: f64,
    /// How far the work is, when it has begun.
    pub progress: Option<&'a Progress<'a>>,
}

/// A direction on the diagram.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Away from the near edge.
    Up,
    /// Towards the near edge.
    Down,
    /// Towards the hook end.
    Left,
    /// Towards the far end.
    Right,
}

impl<'a> View<'a> {
    /// The view of `plan.boards[index]`.
    pub fn new(job: &'a Job, plan: &'a Plan, index: usize, ruler: Ruler) -> View<'a> {
        let cut = &plan.boards[index];
        View {
            job,
            plan,
            cut,
            board: &job.boards[cut.board],
            ruler,
            width: theme::WIDTH,
            progress: None,
        }
    }

    /// The order of work on the board.
    pub fn work(&self) -> BoardWork<'a> {
        let sawn = self.progress.map(|progress| progress.sawn);
        BoardWork::of(self.job, self.cut, sawn)
    }

    /// How far a blank is, when work has begun.
    pub fn status(&self, blank: &Blank) -> Option<Status> {
        self.progress.map(|progress| progress.status(blank))
    }

    /// The front a blank is for.
    pub fn front(&self, blank: &Blank) -> &'a Front {
        &self.job.fronts[blank.front]
    }

    /// All blanks of the board, section by section and strip by strip.
    pub fn blanks(&self) -> impl Iterator<Item = &'a Blank> {
        self.cut
            .sections
            .iter()
            .flat_map(|section| &section.strips)
            .flat_map(|strip| &strip.blanks)
    }

    /// The board's name, with its copy when there are several.
    pub fn name(&self) -> String {
        board_name(self.job, self.cut)
    }

    /// Volume of the kept pieces.
    pub fn feet_kept(&self) -> Volume {
        let feet = |(length, width)| self.job.volume(length, width, self.board.thickness).value();
        let pieces = self
            .cut
            .kept
            .iter()
            .map(|k| (k.to - k.from, k.high - k.low));
        Volume::new(pieces.map(feet).sum())
    }

    /// Finished fronts' share of the board less its kept pieces; a stave counts for the part of
    /// its front that it makes.
    pub fn yield_share(&self) -> f64 {
        let fronts: f64 = self
            .blanks()
            .map(|blank| {
                let front = self.front(blank);
                let thickness = self.board.thickness;
                let feet = self.job.volume(front.width, front.height, thickness);
                feet.value() * stave_share(self.plan, blank)
            })
            .sum();
        let used = self.job.volume_of(self.board).value() - self.feet_kept().value();
        if used > 0.0 { fronts / used } else { 0.0 }
    }

    /// From where to where a stave reaches across its front, as shares of it, stave 1 first.
    pub fn stave_span(&self, blank: &Blank) -> (f64, f64) {
        let blanks = placed(self.plan).map(|(.., other)| other);
        stave_span(blanks.filter(|other| other.front == blank.front), blank)
    }

    /// Which way the top of a blank's front lies.
    pub fn top(&self, blank: &Blank) -> Way {
        match self.front(blank).grain {
            Grain::Horizontal if upright(blank) => Way::Up,
            Grain::Horizontal => Way::Down,
            Grain::Vertical if blank.left == End::Hook => Way::Right,
            Grain::Vertical => Way::Left,
        }
    }
}

/// Whether a blank's front stands upright (horizontal grain), or has its left side at the far
/// edge (vertical grain), as the board lies: face up and left end at the hook, or both turned.
pub fn upright(blank: &Blank) -> bool {
    (blank.face == Face::Up) == (blank.left == End::Hook)
}

/// A board's name, with its copy when there are several.
pub fn board_name(job: &Job, cut: &BoardPlan) -> String {
    copy_name(job, &job.boards[cut.board].id, cut.copy)
}

/// What the sheets call a copy of a board.
pub fn copy_name(job: &Job, board: &str, copy: u32) -> String {
    let namesakes = job.boards.iter().filter(|b| b.id == board);
    match namesakes.map(|b| b.copies.len()).sum::<usize>() {
        0 | 1 => board.to_owned(),
        _ => format!("{board} no. {copy}"),
    }
}

/// A rough thickness as the trade says it: `5/4` when it is whole quarters of an inch, and inches
/// are what is read.
pub fn thickness(length: Length, ruler: Ruler) -> String {
    let quarter = Length::from_inches(0.25).nm();
    if ruler.unit == Unit::Inch && length.nm() % quarter == 0 {
        format!("{}/4", length.nm() / quarter)
    } else {
        ruler.show_with_unit(length)
    }
}
