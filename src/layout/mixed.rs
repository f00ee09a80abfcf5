//! Logs and ways of sawing that a run is cut from: each more than one costs.
//!
//! What the optimiser knows of a board beside its wood is its *look*: tone, log and way of sawing. Boards
//! whose log is not said count for none, and a worth of zero, or a single log in the pile, leaves logs out.

use std::collections::BTreeMap;

use crate::job::{Board, Job};

use super::problem::Problem;

/// Logs are the first, ways of sawing the second.
pub(super) const KINDS: usize = 2;

/// A board's log and its way of sawing, by number; nothing where it counts for none.
pub(super) type Labels = [Option<usize>; KINDS];

/// Tone, log and way of sawing of some boards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Look {
    /// Index into `Problem::tones`.
    pub(super) tone: usize,
    pub(super) labels: Labels,
}

/// The different looks of a pile.
#[derive(Clone, Debug, Default)]
pub(super) struct Looks {
    pub(super) all: Vec<Look>,
    /// Index into `all` of each board.
    pub(super) of_board: Vec<usize>,
    /// How many logs and ways of sawing there are.
    pub(super) labels: [usize; KINDS],
}

impl Looks {
    pub(super) fn of(job: &Job, tones: &[f64]) -> Looks {
        let worth = &job.settings.worth;
        let log = |board: &Board| board.log.clone();
        let cut = |board: &Board| board.cut.map(|cut| format!("{cut:?}"));
        let logs = numbered(job, worth.mixed_log, &log);
        let cuts = numbered(job, worth.mixed_cut, &cut);
        let mut looks = Looks {
            labels: [logs.len(), cuts.len()],
            ..Looks::default()
        };
        for board in &job.boards {
            let number = |of: &BTreeMap<String, usize>, label: Option<String>| {
                label.and_then(|label| of.get(&label).copied())
            };
            let tone = tones.iter().position(|&t| t == board.tone.value());
            let look = Look {
                tone: tone.unwrap_or(0),
                labels: [number(&logs, log(board)), number(&cuts, cut(board))],
            };
            let known = looks.all.iter().position(|other| *other == look);
            looks.of_board.push(known.unwrap_or(looks.all.len()));
            if known.is_none() {
                looks.all.push(look);
            }
        }
        looks
    }

    /// Whether any run can be cut from more than one log, or sawn in more than one way.
    pub(super) fn mix(&self) -> bool {
        self.labels.iter().any(|&labels| labels > 0)
    }
}

/// The labels there are, by number; none where mixing them costs nothing or there is but one.
fn numbered(
    job: &Job,
    worth: f64,
    label: &dyn Fn(&Board) -> Option<String>,
) -> BTreeMap<String, usize> {
    let there = job.boards.iter().filter(|board| !board.left_out);
    let mut labels: Vec<String> = there.filter_map(label).collect();
    labels.sort_unstable();
    labels.dedup();
    if worth == 0.0 || labels.len() < 2 {
        labels.clear();
    }
    labels.into_iter().zip(0..).collect()
}

/// How many pieces of each run are of each log and way of sawing.
#[derive(Clone, Debug)]
pub(super) struct Mixed {
    /// `counts[kind][run][label]`.
    counts: [Vec<Vec<u32>>; KINDS],
}

impl Mixed {
    pub(super) fn new(problem: &Problem) -> Mixed {
        let none = |kind: usize| vec![vec![0; problem.looks.labels[kind]]; problem.runs.len()];
        Mixed {
            counts: std::array::from_fn(none),
        }
    }

    /// One more piece of a run.
    pub(super) fn add(&mut self, run: usize, labels: Labels) {
        self.each(run, labels, |count| *count += 1);
    }

    /// One piece of a run less.
    pub(super) fn subtract(&mut self, run: usize, labels: Labels) {
        self.each(run, labels, |count| *count -= 1);
    }

    fn each(&mut self, run: usize, labels: Labels, change: fn(&mut u32)) {
        for (counts, label) in self.counts.iter_mut().zip(labels) {
            if let Some(label) = label {
                change(&mut counts[run][label]);
            }
        }
    }

    /// What one more piece of a run adds to the cost.
    pub(super) fn rise(&self, problem: &Problem, run: usize, labels: Labels) -> f64 {
        let kinds = self.counts.iter().zip(labels).zip(problem.worth.mixed);
        let rise = |((counts, label), worth): ((&Vec<Vec<u32>>, Option<usize>), f64)| {
            let counts = &counts[run];
            let more = counts.get(label?)? == &0 && counts.iter().any(|&count| count > 0);
            more.then_some(worth)
        };
        kinds.filter_map(rise).sum()
    }

    /// What all runs cost for the logs and ways of sawing they have more than one of.
    pub(super) fn cost(&self, problem: &Problem) -> f64 {
        let kinds = self.counts.iter().zip(problem.worth.mixed);
        let cost = |(runs, worth): (&Vec<Vec<u32>>, f64)| {
            worth * runs.iter().map(|run| more(run)).sum::<f64>()
        };
        kinds.map(cost).sum()
    }
}

/// How many labels beyond the first a run has.
fn more(counts: &[u32]) -> f64 {
    let there = counts.iter().filter(|&&count| count > 0).count();
    there.saturating_sub(1) as f64
}
