//! A plan as the page has it.

use crate::commands::{Found, Recutting};
use crate::job::{Job, Reading};
use crate::layout::WarmStart;
use crate::plan::{Plan, Sawn};
use crate::recut::Change;

/// How far the search has come that found a plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Stage {
    /// A first plan: the search goes on.
    #[default]
    First,
    /// The search has ended.
    Last,
}

/// The best plan of some state of the files.
#[derive(Clone, Debug)]
pub struct Best {
    /// The number of that state.
    pub version: u64,
    /// How far the search has come.
    pub stage: Stage,
    /// What was found.
    pub kind: BestKind,
}

/// A plan, or what is left of one.
#[derive(Clone, Debug)]
pub enum BestKind {
    /// Nothing is cut yet.
    Plan(Box<Found>),
    /// Something is cut: a plan of the rest, not taken yet.
    Recut(Box<Recutting>),
}

impl Best {
    /// Of a job that is not begun.
    pub fn plan(found: Found) -> Best {
        Best {
            version: 0,
            stage: Stage::First,
            kind: BestKind::Plan(Box::new(found)),
        }
    }

    /// Of one that is.
    pub fn recut(found: Recutting) -> Best {
        Best {
            version: 0,
            stage: Stage::Last,
            kind: BestKind::Recut(Box::new(found)),
        }
    }

    /// The job it was made for.
    pub fn reading(&self) -> &Reading {
        match &self.kind {
            BestKind::Plan(found) => &found.reading,
            BestKind::Recut(found) => &found.reading,
        }
    }

    /// The job itself.
    pub fn job(&self) -> &Job {
        &self.reading().job
    }

    /// The plan.
    pub fn the_plan(&self) -> &Plan {
        match &self.kind {
            BestKind::Plan(found) => &found.plan,
            BestKind::Recut(found) => &found.recut.plan,
        }
    }

    /// What its search knew.
    pub fn warm_start(&self) -> WarmStart {
        match &self.kind {
            BestKind::Plan(found) => found.warm.clone(),
            BestKind::Recut(_) => WarmStart::default(),
        }
    }

    /// What the saw has done, once it has begun.
    pub fn sawn(&self) -> Option<&Sawn> {
        match &self.kind {
            BestKind::Plan(_) => None,
            BestKind::Recut(found) => Some(&found.recut.sawn),
        }
    }

    /// What taking it would change, front by front.
    pub fn changes(&self) -> &[Change] {
        match &self.kind {
            BestKind::Plan(_) => &[],
            BestKind::Recut(found) => &found.changes,
        }
    }
}
