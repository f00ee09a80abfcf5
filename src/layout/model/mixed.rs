//! How many logs and ways of sawing each run of a plan is cut from.

use crate::layout::model::looks::{KINDS, Labels};
use crate::layout::model::problem::Problem;

/// How many pieces of each run are of each log and way of sawing.
#[derive(Clone, Debug)]
pub(in crate::layout) struct Mixed {
    /// `counts[kind][run][label]`.
    counts: [Vec<Vec<u32>>; KINDS],
}

impl Mixed {
    pub(in crate::layout) fn new(problem: &Problem) -> Mixed {
        let none = |kind: usize| vec![vec![0; problem.looks.labels[kind]]; problem.runs.len()];
        Mixed {
            counts: std::array::from_fn(none),
        }
    }

    /// One more piece of a run.
    pub(in crate::layout) fn add(&mut self, run: usize, labels: Labels) {
        self.each(run, labels, |count| *count += 1);
    }

    /// One piece of a run less.
    pub(in crate::layout) fn subtract(&mut self, run: usize, labels: Labels) {
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
    pub(in crate::layout) fn rise(&self, problem: &Problem, run: usize, labels: Labels) -> f64 {
        let kinds = self.counts.iter().zip(labels).zip(problem.worth.mixed);
        let rise = |((counts, label), worth): ((&Vec<Vec<u32>>, Option<usize>), f64)| {
            let counts = &counts[run];
            let more = counts.get(label?)? == &0 && counts.iter().any(|&count| count > 0);
            more.then_some(worth)
        };
        kinds.filter_map(rise).sum()
    }

    /// The logs, and the ways of sawing, beyond the first of each run.
    pub(in crate::layout) fn beyond_first(&self) -> [f64; KINDS] {
        let of = |kind: usize| self.counts[kind].iter().map(|run| more(run)).sum();
        std::array::from_fn(of)
    }
}

/// How many labels beyond the first a run has.
fn more(counts: &[u32]) -> f64 {
    let there = counts.iter().filter(|&&count| count > 0).count();
    there.saturating_sub(1) as f64
}
