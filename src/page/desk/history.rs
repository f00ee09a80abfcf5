//! What was changed, step by step, so that it can be taken back: also after the program was ended.
//!
//! Steps are noted in `.grainrow/changes.jsonl` in the job's folder, a line each, before they are
//! done. A line that was noted and not done when the program was ended is done when the job is
//! opened again.

use std::fs::{self, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::splice::Splice;
use crate::commands::Failure;

/// The file of steps within the job's folder.
const NOTES: &str = ".grainrow/changes.jsonl";
/// Steps that can be taken back at the most.
const MOST: usize = 2000;

/// One step of the maker.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Step {
    /// What was done, in words.
    pub label: String,
    /// Steps of one group that follow one another are taken back together.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub group: String,
    /// What it changed.
    pub(super) files: Vec<Splice>,
}

/// A line of the notes.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Line {
    /// A step was done.
    Do(Step),
    /// So many steps were taken back.
    Undo(usize),
    /// So many were done again.
    Redo(usize),
}

/// The steps, those done and those taken back.
#[derive(Debug)]
pub struct History {
    path: PathBuf,
    done: Vec<Step>,
    undone: Vec<Step>,
    /// What the last line asked for, in order.
    last: Vec<Splice>,
}

impl History {
    /// Reads the notes of a folder; what can't be read ends them.
    pub fn open(folder: &Path) -> History {
        let path = folder.join(NOTES);
        let bytes = crate::job::read_plain(&path).unwrap_or_default();
        let text = String::from_utf8_lossy(&bytes);
        let mut history = History {
            path,
            done: Vec::new(),
            undone: Vec::new(),
            last: Vec::new(),
        };
        for line in text.lines() {
            match serde_json::from_str(line) {
                Ok(line) => history.take(line),
                // A line half written was not done.
                Err(_) => break,
            }
        }
        history.shorten();
        history
    }

    fn take(&mut self, line: Line) {
        self.last = match line {
            Line::Do(step) if step.files.iter().all(Splice::is_known) => {
                self.undone.clear();
                self.done.push(step.clone());
                step.files
            }
            Line::Do(_) => Vec::new(),
            Line::Undo(count) => self.move_back(count),
            Line::Redo(count) => self.move_on(count),
        };
    }

    fn move_back(&mut self, count: usize) -> Vec<Splice> {
        let mut splices = Vec::new();
        for _ in 0..count {
            if let Some(step) = self.done.pop() {
                splices.extend(step.files.iter().rev().map(Splice::inverse));
                self.undone.push(step);
            }
        }
        splices
    }

    fn move_on(&mut self, count: usize) -> Vec<Splice> {
        let mut splices = Vec::new();
        for _ in 0..count {
            if let Some(step) = self.undone.pop() {
                splices.extend(step.files.clone());
                self.done.push(step);
            }
        }
        splices
    }

    /// What the last line asked for and is not done. `mark` gives the mark of a file as it is.
    /// Where the files are none of those the notes speak of, the notes are forgotten.
    pub fn left_over(&mut self, mark: impl Fn(&str) -> u64) -> Vec<Splice> {
        let mut left = Vec::new();
        let mut marks: Vec<(&str, u64, u64)> = Vec::new();
        for splice in &self.last {
            let (before, after) = splice.marks();
            let known = marks.iter().position(|(file, ..)| *file == splice.file());
            let at = known.unwrap_or_else(|| {
                marks.push((splice.file(), mark(splice.file()), 0));
                marks.len() - 1
            });
            marks[at].2 = after;
            if marks[at].1 == before {
                left.push(splice.clone());
                marks[at].1 = after;
            }
        }
        let mut stale = marks.iter().any(|(_, is, wanted)| is != wanted);
        for (file, wanted) in self.earlier_marks(&marks) {
            stale |= mark(file) != wanted;
        }
        if stale {
            left.clear();
            self.forget();
        }
        self.last.clear();
        left
    }

    /// The marks files should bear that the last line did not touch.
    fn earlier_marks(&self, touched: &[(&str, u64, u64)]) -> Vec<(&'static str, u64)> {
        let mut found: Vec<(&'static str, u64)> = Vec::new();
        let mut add = |file: &'static str, wanted| {
            let known = found.iter().any(|(known, _)| *known == file);
            if !known && !touched.iter().any(|(known, ..)| *known == file) {
                found.push((file, wanted));
            }
        };
        for splice in self.done.iter().rev().flat_map(|s| s.files.iter().rev()) {
            add(splice.file(), splice.marks().1);
        }
        for splice in self.undone.iter().rev().flat_map(|s| &s.files) {
            add(splice.file(), splice.marks().0);
        }
        found
    }

    fn forget(&mut self) {
        self.done.clear();
        self.undone.clear();
        let _ = fs::remove_file(&self.path);
    }

    /// Notes a step before it is done.
    pub fn note(&mut self, label: &str, group: &str, files: &[Splice]) -> Result<(), Failure> {
        let step = Step {
            label: label.to_owned(),
            group: group.to_owned(),
            files: files.to_vec(),
        };
        self.write(&[Line::Do(step.clone())])?;
        self.undone.clear();
        self.done.push(step);
        if self.done.len() > MOST + MOST / 2 {
            self.shorten();
        }
        Ok(())
    }

    /// The step noted last could not be done.
    pub fn drop_last(&mut self) {
        self.done.pop();
        // If that can't be noted either, the marks tell it when the job is opened again.
        let _ = self.write(&[Line::Undo(1)]);
    }

    /// Notes that the last steps of one group are taken back, or done again, and gives them in the
    /// order to do that.
    pub fn turn(&mut self, again: bool) -> Option<Vec<Step>> {
        let from = if again { &self.undone } else { &self.done };
        let group = &from.last()?.group;
        let same = |step: &&Step| !group.is_empty() && step.group == *group;
        let count = from.iter().rev().take_while(same).count().max(1);
        let line = match again {
            true => Line::Redo(count),
            false => Line::Undo(count),
        };
        self.write(&[line]).ok()?;
        let (from, to) = match again {
            true => (&mut self.undone, &mut self.done),
            false => (&mut self.done, &mut self.undone),
        };
        let mut steps: Vec<Step> = from.split_off(from.len() - count);
        steps.reverse();
        to.extend(steps.iter().cloned());
        Some(steps)
    }

    /// What would be taken back and done again next, in words.
    pub fn next(&self) -> (Option<&str>, Option<&str>) {
        (
            self.done.last().map(|step| step.label.as_str()),
            self.undone.last().map(|step| step.label.as_str()),
        )
    }

    /// Forgets the oldest steps when there are too many, and writes the notes anew.
    fn shorten(&mut self) {
        if self.done.len() <= MOST {
            return;
        }
        self.done.drain(..self.done.len() - MOST);
        let done = self.done.iter().cloned();
        let mut lines: Vec<Line> = done
            .chain(self.undone.iter().cloned())
            .map(Line::Do)
            .collect();
        if !self.undone.is_empty() {
            let at = lines.len() - self.undone.len();
            lines[at..].reverse();
            lines.push(Line::Undo(self.undone.len()));
        }
        let text: String = lines.iter().map(text_of).collect();
        let folder = self.path.parent().unwrap_or(&self.path);
        let output = ("changes.jsonl".to_owned(), text.into_bytes());
        // Notes that stay long do no harm.
        let _ = crate::commands::write_all(folder, &[output]);
    }

    fn write(&self, lines: &[Line]) -> Result<(), Failure> {
        let written = || {
            if let Some(folder) = self.path.parent() {
                fs::create_dir_all(folder)?;
            }
            let mut file = OpenOptions::new()
                .create(true)
                .append(true)
                .open(&self.path)?;
            let text: String = lines.iter().map(text_of).collect();
            file.write_all(text.as_bytes())
        };
        written().map_err(|why| Failure::Write {
            path: self.path.clone(),
            why,
        })
    }
}

fn text_of(line: &Line) -> String {
    serde_json::to_string(line).unwrap_or_default() + "\n"
}
