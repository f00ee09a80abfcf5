//! `mark`: what happened in the shop, written into the job's files.

use std::path::{Path, PathBuf};

use super::Failure;
use super::disk::{Disk, Real, replace_with_backup};
use super::fit::FittedJob;
use super::joined::{Before, left_joined};
use super::recut::present;
use super::shelf::Shelf;
use crate::job::{
    self, DEFECTS_CSV, DONE_CSV, DefectMark, Done, Finished, Job, JobFiles, Needs, mark_crosscut,
    mark_defect, mark_front,
};
use crate::plan::{Fate, Sawn};
use crate::recut::begun_on;

/// What to write, and about which job.
#[derive(Clone, Debug)]
pub struct MarkOrder {
    /// The job's folder.
    pub folder: PathBuf,
    /// The folder of the present plan; `out` in the job's folder when not given.
    pub out: Option<PathBuf>,
    /// What happened.
    pub what: Happened,
}

/// What happened in the shop.
#[derive(Clone, Debug)]
pub enum Happened {
    /// Blanks were cut, or fronts made of them, or with `None` spoiled.
    Fronts {
        /// The fronts.
        names: Vec<String>,
        /// How far they have come.
        now: Option<Finished>,
        /// Whatever the maker says of it.
        notes: String,
    },
    /// A board was cut through.
    Crosscut {
        /// The board.
        board: String,
        /// Its copy; the first when not given.
        copy: Option<u32>,
        /// Where, from the hook end, as typed.
        at: String,
        /// Whatever the maker says of it.
        notes: String,
    },
    /// Something was found on a board.
    Defect(DefectMark),
}

/// What was written.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Marked {
    /// The file that changed.
    pub file: String,
    /// The old one beside it, when there was one.
    pub backup: Option<String>,
    /// What was written, in a few words.
    pub what: String,
    /// What to see to, where the order of work has it otherwise; one a piece.
    pub notes: Vec<String>,
}

/// Writes what happened into `done.csv` or `defects.csv`.
///
/// # Errors
/// [`Failure::Faults`] when the job has faults or would have with it, [`Failure::Begun`] when it
/// does not go with the present plan; nothing is changed then. [`Failure::Write`].
pub fn mark(order: &MarkOrder) -> Result<Marked, Failure> {
    mark_on(&Real, order)
}

/// The same on a disk that may fail.
pub(super) fn mark_on(disk: &dyn Disk, order: &MarkOrder) -> Result<Marked, Failure> {
    let out = order
        .out
        .clone()
        .unwrap_or_else(|| order.folder.join("out"));
    let _shelf = Shelf::open(disk, &out, &order.folder)?;
    let files = JobFiles::read(&order.folder)?;
    let unit = files.parse()?.job.settings.unit;
    let name = match &order.what {
        Happened::Fronts { .. } | Happened::Crosscut { .. } => DONE_CSV,
        Happened::Defect(_) => DEFECTS_CSV,
    };
    let before = files.text(name).unwrap_or("").to_owned();
    let mut joined = Vec::new();
    let after = match &order.what {
        Happened::Fronts { names, now, notes } => {
            let (known, sawn) = check_planned(&order.folder, &out, names, *now)?;
            if now.is_some() {
                joined = left_joined(&known, &sawn, names);
            }
            names
                .iter()
                .fold(before, |text, front| mark_front(&text, front, *now, notes))
        }
        Happened::Crosscut {
            board,
            copy,
            at,
            notes,
        } => mark_crosscut(&before, board, *copy, at, unit, notes),
        Happened::Defect(defect) => mark_defect(&before, defect, unit),
    };
    // The readers judge what was typed: a fault shows the line as it would stand in the file.
    let reading = files.with(name, after.clone()).parse()?;
    if let Happened::Crosscut { .. } = order.what {
        let fitted = FittedJob::read(&order.folder, Needs::Boards, Some(&out))?;
        check_crosscut(&fitted.reading.job, &reading.done, &out)?;
    }
    let path = order.folder.join(name);
    let had = path.exists();
    replace_with_backup(disk, &path, after.as_bytes()).map_err(|why| Failure::Write {
        path: path.clone(),
        why,
    })?;
    Ok(Marked {
        file: path.display().to_string(),
        backup: had.then(|| format!("{}.bak", path.display())),
        what: told(&order.what),
        notes: joined,
    })
}

/// A blank can be cut only where a plan has it, and spoiled only once in each place. Gives what
/// was known before, and what is cut with the marks made.
fn check_planned(
    folder: &Path,
    out: &Path,
    names: &[String],
    now: Option<Finished>,
) -> Result<(Before, Sawn), Failure> {
    // Fronts are as large as the plan has them, which is not always as drawn.
    let reading = FittedJob::read(folder, Needs::Boards, Some(out))?.reading;
    let (_, earlier) = present(&reading.job, out)?;
    let mut done = reading.done.clone();
    done.fronts
        .resize_with(reading.job.fronts.len(), Default::default);
    for name in names {
        let known = reading
            .job
            .fronts
            .iter()
            .position(|front| front.name == *name);
        // An unknown front is told by the readers, with the nearest name.
        if let Some(front) = known {
            match now {
                Some(finished) => done.fronts[front].now = Some(finished),
                None => {
                    done.fronts[front].spoiled += 1;
                    done.fronts[front].now = None;
                }
            }
        }
    }
    let sawn_by = |done| begun_on(&reading.job, &earlier, done).map_err(Failure::Begun);
    let after = sawn_by(&done)?;
    let before = Before {
        // What was marked before may not go with the plan any more: then nothing is known of it.
        sawn: sawn_by(&reading.done).unwrap_or_default(),
        plan: earlier.plan.clone(),
        job: reading.job,
    };
    Ok((before, after))
}

/// A board can't have been cut through in the midst of what is cut from it. Without a plan nothing
/// is known of that.
fn check_crosscut(job: &Job, done: &Done, out: &Path) -> Result<(), Failure> {
    match present(job, out) {
        Err(Failure::NoPlan { .. }) => Ok(()),
        Err(why) => Err(why),
        Ok((_, earlier)) => begun_on(job, &earlier, done)
            .map(|_| ())
            .map_err(Failure::Begun),
    }
}

fn told(what: &Happened) -> String {
    match what {
        Happened::Fronts { names, now, .. } => {
            let fate = match now {
                Some(Finished::Cut) => Fate::Cut,
                Some(Finished::Made) => Fate::Made,
                None => Fate::Spoiled,
            };
            let word = format!("{fate:?}").to_lowercase();
            format!("{} {word}", names.join(", "))
        }
        Happened::Crosscut { board, at, .. } => format!("{board} crosscut at {at}"),
        Happened::Defect(defect) => {
            let [from, to, low, high] = &defect.edges;
            let kind = format!("{:?}", defect.kind).to_lowercase();
            let board = &defect.board;
            format!("{board}: {kind} {from} to {to} along, {low} to {high} across")
        }
    }
}

/// Splits what a shell made of several lengths into those: `30 1/2 34 2 4` is four.
pub fn lengths_of(words: &[String]) -> Vec<String> {
    let mut lengths: Vec<String> = Vec::new();
    for word in words.iter().flat_map(|word| word.split_whitespace()) {
        let is_fraction = word.contains('/') && word.chars().next().is_some_and(char::is_numeric);
        let follows_whole = |last: &String| last.chars().all(|c| c.is_ascii_digit());
        let is_unit = matches!(word, "in" | "mm" | "cm" | "m" | "ft");
        match lengths.last_mut() {
            Some(last)
                if is_unit || (is_fraction && !word.contains('-') && follows_whole(last)) =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => lengths.push(word.to_owned()),
        }
    }
    lengths
}

/// Whether a job has anything marked as done.
pub(super) fn is_begun(reading: &job::Reading) -> bool {
    !reading.done.is_empty()
}

#[cfg(test)]
mod tests {
    use super::lengths_of;

    #[test]
    fn words_of_a_shell_become_lengths() {
        let split = |text: &str| {
            let words: Vec<String> = text.split('|').map(str::to_owned).collect();
            lengths_of(&words)
        };
        assert_eq!(split("30|34|2|4"), ["30", "34", "2", "4"]);
        assert_eq!(
            split("30|1/2|34|2 1/4|4.5"),
            ["30 1/2", "34", "2 1/4", "4.5"]
        );
        assert_eq!(split("30-1/2|7/8|289|mm"), ["30-1/2", "7/8", "289 mm"]);
    }
}
