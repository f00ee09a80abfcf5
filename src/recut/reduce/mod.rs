//! The job still to do, as one the optimiser can plan.
//!
//! No recut costs less than the best plan of it, `base` added: what is not decided yet counts as
//! it is best. A front that may stay or go costs nothing on the board it is chalked on, and an edge
//! that is cut into counts as if as little of it were used as may be. Where the answer is not what
//! it seems, [`search`](super::search) decides and asks again.

mod chalk;
mod runs;
mod wood;

pub(super) use wood::edge_taken;

use std::collections::BTreeMap;

use crate::job::{Board, Front, Job};
use crate::layout::{Counts, History};
use crate::measure::Length;
use crate::plan::{self, Plan, Sawn};

use super::Last;
use super::rest::{Edge, Rest};
use super::stays::{Fronts, as_plan};

/// The job still to do, and how to get back from it.
#[derive(Debug)]
pub(super) struct Reduced {
    pub(super) job: Job,
    pub(super) history: History,
    /// What each of its boards is.
    pub(super) origin: Vec<Origin>,
    /// The front each of its fronts is; nothing for what is there already.
    pub(super) fronts: Vec<Option<usize>>,
    /// What has to be added to its cost for the cost of the whole.
    pub(super) base: f64,
}

/// What a board of the reduced job is.
#[derive(Clone, Debug)]
pub(super) enum Origin {
    /// A board nothing lies on, by index into `Job::boards`.
    Whole(usize),
    /// What is left of a board in use.
    Rest(Rest),
    /// What is there already.
    There,
}

impl Reduced {
    /// The front of this job that a front of the whole job is.
    fn front(&self, front: usize) -> Option<usize> {
        self.fronts.iter().position(|&is| is == Some(front))
    }
}

impl Origin {
    /// Whether all of `rest`, of the same board, is in it.
    fn holds(&self, rest: &Rest) -> bool {
        match self {
            Origin::Whole(_) => true,
            Origin::Rest(whole) => {
                whole.from <= rest.from
                    && rest.to <= whole.to
                    && whole.low <= rest.low
                    && rest.high <= whole.high
            }
            Origin::There => false,
        }
    }
}

/// All that a reduction is made from.
#[derive(Clone, Copy)]
pub(super) struct State<'a> {
    pub(super) job: &'a Job,
    pub(super) last: &'a Last<'a>,
    pub(super) sawn: &'a Sawn,
    /// Chalk that keeps every rule; leaving its place is a move.
    pub(super) held: &'a Fronts,
}

/// What is decided in one branch of the search.
#[derive(Clone, Debug, Default)]
pub(super) struct Decided {
    /// Chalk that stays in its place.
    pub(super) stays: Fronts,
    /// Chalk that goes: wherever its front is made, that is a move.
    pub(super) goes: Fronts,
    /// How much of an edge is used, if any: at least and at most, from the strips beside it.
    pub(super) edges: BTreeMap<Edge, (Length, Length)>,
}

/// The job still to do when so much is decided.
pub(super) fn reduce(state: State<'_>, decided: &Decided) -> Reduced {
    let mut builder = Builder::new(state, decided);
    builder.boards();
    builder.runs();
    builder.chalk();
    builder.reduced
}

struct Builder<'a> {
    state: State<'a>,
    decided: &'a Decided,
    /// What is cut and what stays, as a plan.
    there: Plan,
    reduced: Reduced,
    /// What a board foot of worth counts.
    price: f64,
}

impl<'a> Builder<'a> {
    fn new(state: State<'a>, decided: &'a Decided) -> Builder<'a> {
        let State {
            job, last, sawn, ..
        } = state;
        let mean_price = plan::mean_price(job).filter(|_| last.by_money());
        Builder {
            state,
            decided,
            there: as_plan(job, last.plan, sawn, &decided.stays, last.by_money()),
            price: mean_price.unwrap_or(1.0),
            reduced: Reduced {
                job: Job {
                    settings: job.settings.clone(),
                    ..Job::default()
                },
                history: History {
                    moved: job.settings.worth.moved,
                    mean_price,
                    ..History::default()
                },
                origin: Vec::new(),
                fronts: Vec::new(),
                base: 0.0,
            },
        }
    }

    fn is_there(&self, front: usize) -> bool {
        self.decided.stays.contains(&front) || self.state.sawn.is_fixed(front)
    }

    fn add_board(&mut self, board: Board, origin: Origin, counts: Option<Counts>) {
        self.reduced.job.boards.push(board);
        self.reduced.origin.push(origin);
        self.reduced.history.counts.push(counts);
    }

    fn add_front(&mut self, front: Front, is: Option<usize>) -> usize {
        self.reduced.job.fronts.push(front);
        self.reduced.fronts.push(is);
        self.reduced.fronts.len() - 1
    }
}
