//! Logs and ways of sawing that a run is cut from: each more than one costs.
//!
//! What the optimiser knows of a board beside its wood is its *look*: tone, log and way of sawing. Boards
//! whose log is not said count for none, and a worth of zero, or a single log in the pile, leaves logs out.

use std::collections::BTreeMap;

use crate::job::{Board, Job};

/// Logs are the first, ways of sawing the second.
pub(in crate::layout) const KINDS: usize = 2;

/// A board's log and its way of sawing, by number; nothing where it counts for none.
pub(in crate::layout) type Labels = [Option<usize>; KINDS];

/// Tone, log and way of sawing of some boards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::layout) struct Look {
    /// Index into `Problem::tones`.
    pub(in crate::layout) tone: usize,
    pub(in crate::layout) labels: Labels,
}

/// The different looks of a pile.
#[derive(Clone, Debug, Default)]
pub(in crate::layout) struct Looks {
    pub(in crate::layout) all: Vec<Look>,
    /// Index into `all` of each board.
    pub(in crate::layout) of_board: Vec<usize>,
    /// How many logs and ways of sawing there are.
    pub(in crate::layout) labels: [usize; KINDS],
}

impl Looks {
    pub(in crate::layout) fn of(job: &Job, tones: &[f64]) -> Looks {
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
    pub(in crate::layout) fn mix(&self) -> bool {
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
