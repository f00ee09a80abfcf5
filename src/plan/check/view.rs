//! A plan seen the way the rules speak of it: each blank with its strip, section and board, and
//! the lanes in which stretches lie.

use std::collections::BTreeMap;

use super::{Rule, Violation};
use crate::job::{Board, Front, Job};
use crate::measure::Length;
use crate::plan::{Blank, BoardPlan, Plan, Sawn, Section};

/// A blank and all it lies in.
#[derive(Clone, Copy)]
pub(super) struct Placed<'a> {
    pub board: &'a Board,
    pub planned: &'a BoardPlan,
    pub section: &'a Section,
    pub blank: &'a Blank,
    pub front: &'a Front,
    /// Position of the board in the plan, the section in the board, the strip in the section,
    /// the blank in the strip.
    pub at: [usize; 4],
}

/// One stave's row of a stretch: all of it should lie in one strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct LaneKey {
    pub run: usize,
    pub stretch: u32,
    pub stave: u32,
}

/// All lanes of a plan.
pub(super) type Lanes<'a> = BTreeMap<LaneKey, Vec<Placed<'a>>>;

/// A plan with its job, and the places of the fronts in their runs.
pub(super) struct View<'a> {
    pub job: &'a Job,
    pub plan: &'a Plan,
    /// What was done before the plan was made, in a recut.
    pub sawn: Option<&'a Sawn>,
    /// Run and position in it, by front.
    pub places: Vec<(usize, usize)>,
}

impl<'a> View<'a> {
    /// The plan's indices must point into the job.
    pub fn new(job: &'a Job, plan: &'a Plan, sawn: Option<&'a Sawn>) -> View<'a> {
        let mut places = vec![(0, 0); job.fronts.len()];
        for (index, run) in job.runs.iter().enumerate() {
            for (place, &front) in run.fronts.iter().enumerate() {
                places[front] = (index, place);
            }
        }
        View {
            job,
            plan,
            sawn,
            places,
        }
    }

    /// Every blank of the plan, in the plan's order.
    pub fn blanks(&self) -> Vec<Placed<'a>> {
        let mut all = Vec::new();
        for (b, planned) in self.plan.boards.iter().enumerate() {
            for (s, section) in planned.sections.iter().enumerate() {
                for (r, strip) in section.strips.iter().enumerate() {
                    all.extend(strip.blanks.iter().enumerate().map(|(i, blank)| Placed {
                        board: &self.job.boards[planned.board],
                        planned,
                        section,
                        blank,
                        front: &self.job.fronts[blank.front],
                        at: [b, s, r, i],
                    }));
                }
            }
        }
        all
    }

    /// The blanks of each stave of each stretch, in the plan's order.
    pub fn lanes(&self) -> Lanes<'a> {
        let mut lanes = Lanes::new();
        for placed in self.blanks() {
            lanes
                .entry(self.lane_of(placed.blank))
                .or_default()
                .push(placed);
        }
        lanes
    }

    pub fn lane_of(&self, blank: &Blank) -> LaneKey {
        LaneKey {
            run: self.places[blank.front].0,
            stretch: blank.stretch,
            stave: blank.stave,
        }
    }

    pub fn kind(&self, planned: &BoardPlan) -> &'a Board {
        &self.job.boards[planned.board]
    }

    /// Whether a blank is cut already, its front good.
    pub fn is_cut(&self, blank: &Blank) -> bool {
        self.sawn.is_some_and(|sawn| sawn.is_fixed(blank.front))
    }

    /// Whether a blank lay where it lies before the plan was made, cut or chalked.
    pub fn stood(&self, blank: &Blank) -> bool {
        let stays = |sawn: &Sawn| sawn.stays.contains(&blank.front);
        self.is_cut(blank) || self.sawn.is_some_and(stays)
    }

    pub fn show(&self, length: Length) -> String {
        length.in_unit(self.job.settings.unit).to_string()
    }

    /// A fault on a board as a whole.
    pub fn on_board(&self, rule: Rule, planned: &BoardPlan, text: String) -> Violation {
        Violation {
            rule,
            board: Some(board_name(&self.kind(planned).id, planned.copy)),
            front: None,
            text,
        }
    }
}

impl Placed<'_> {
    pub fn length(&self) -> Length {
        self.blank.to - self.blank.from
    }

    pub fn width(&self) -> Length {
        self.blank.high - self.blank.low
    }

    /// A fault of this blank.
    pub fn fault(&self, rule: Rule, text: String) -> Violation {
        Violation {
            rule,
            board: Some(board_name(&self.board.id, self.planned.copy)),
            front: Some(self.front.name.clone()),
            text,
        }
    }
}

/// How a copy of a board is named in a fault.
pub(super) fn board_name(id: &str, copy: u32) -> String {
    format!("{id} copy {copy}")
}
