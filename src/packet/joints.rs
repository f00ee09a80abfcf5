//! The wood lost between finished neighbours of a stretch, beside what the case has there.

use std::collections::BTreeMap;

use crate::job::Job;
use crate::measure::Length;
use crate::plan::{Blank, End, Plan};

/// Two neighbours of a run that are cut one after another, and the wood between them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Joint {
    /// The earlier front, by index into [`Job::fronts`].
    pub first: usize,
    /// The one after it in the run.
    pub second: usize,
    /// The stave this is about, counted from 1.
    pub stave: u32,
    /// Wood lost between the finished fronts, each taken from the middle of its blank.
    pub lost: Length,
    /// Distance of the two on the case, when the job says it.
    pub on_case: Option<Length>,
}

impl Joint {
    /// How much more is lost than the case has between the two; negative when less. Nothing to
    /// say without a distance on the case.
    pub fn off_by(&self) -> Option<Length> {
        self.on_case.map(|space| self.lost - space)
    }
}

/// The joints of all stretches, by run, place and stave.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn joints(job: &Job, plan: &Plan) -> Vec<Joint> {
    let mut blanks: BTreeMap<(usize, u32), &Blank> = BTreeMap::new();
    for strip in strips(plan) {
        blanks.extend(
            strip
                .blanks
                .iter()
                .map(|blank| ((blank.front, blank.stave), blank)),
        );
    }
    let mut found = Vec::new();
    for run in &job.runs {
        for pair in run.fronts.windows(2) {
            let (first, second) = (pair[0], pair[1]);
            for (&(_, stave), a) in blanks.range((first, 0)..=(first, u32::MAX)) {
                match blanks.get(&(second, stave)) {
                    Some(b) if b.stretch == a.stretch => found.push(Joint {
                        first,
                        second,
                        stave,
                        lost: lost(job, a, b),
                        on_case: job.fronts[first].space_after,
                    }),
                    _ => {}
                }
            }
        }
    }
    found
}

fn strips(plan: &Plan) -> impl Iterator<Item = &crate::plan::Strip> {
    let sections = plan.boards.iter().flat_map(|board| &board.sections);
    sections.flat_map(|section| &section.strips)
}

fn lost(job: &Job, first: &Blank, second: &Blank) -> Length {
    let gap = match first.left {
        End::Hook => second.from - first.to,
        End::Far => first.from - second.to,
    };
    let over = |blank: &Blank| blank.to - blank.from - job.fronts[blank.front].along();
    gap + (over(first) + over(second)).half()
}
