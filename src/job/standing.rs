//! Which fronts the rows of `[case]` name.

use super::{Front, Job, Run};

impl Job {
    /// The rows of `[case]` from top to bottom: each item from left to right as the fronts it stands
    /// for, in the order of their run.
    pub fn case_rows(&self) -> Vec<Vec<Vec<usize>>> {
        let item = |name: &String| named(name, &self.fronts, &self.runs);
        let rows = self.settings.case.rows.iter();
        rows.map(|row| row.iter().map(item).collect()).collect()
    }
}

/// The fronts that bear a name: those of a run, a single one, or the copies of a counted one.
pub(super) fn named(name: &str, fronts: &[Front], runs: &[Run]) -> Vec<usize> {
    if let Some(run) = runs.iter().find(|run| run.name == name) {
        return run.fronts.clone();
    }
    if let Some(front) = fronts.iter().position(|front| front.name == name) {
        return vec![front];
    }
    let copy_of = |front: &Front| {
        let number = front.name.strip_prefix(name)?.strip_prefix('.')?;
        number.parse::<u32>().ok()
    };
    (0..fronts.len())
        .filter(|&front| copy_of(&fronts[front]).is_some())
        .collect()
}
