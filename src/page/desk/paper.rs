//! One file as it was last seen.

use std::fs;
use std::io::ErrorKind;
use std::path::Path;
use std::time::SystemTime;

use super::text::matched;
use crate::commands::Failure;
use crate::job::{Columns, Grid, columns_of};

/// A file's text, and a number for each of its rows that stays with the row.
#[derive(Clone, Debug)]
pub struct Paper {
    /// The file's name.
    pub file: &'static str,
    text: Option<String>,
    /// Why it can't be changed here, when it can't.
    trouble: Option<String>,
    /// The number of each row of a table.
    pub rows: Vec<u64>,
    /// When it was last changed and how long it was, as the disk tells it.
    stamp: Option<(SystemTime, u64)>,
    /// Whether the file as it was before the page changed it stands beside it.
    pub backed_up: bool,
}

/// No job has larger files; they are looked at and not changed here.
const LARGEST: u64 = 4 << 20;

impl Paper {
    /// Reads a file of a folder; one that is not there has no text.
    pub fn read(folder: &Path, file: &'static str) -> Paper {
        let mut paper = Paper {
            file,
            text: None,
            trouble: None,
            rows: Vec::new(),
            stamp: stamp(folder, file),
            backed_up: false,
        };
        match read(folder, file, paper.stamp) {
            Ok(text) => paper.text = text,
            Err(why) => paper.trouble = Some(why),
        }
        paper
    }

    /// Its text; nothing when it is not there.
    pub fn text(&self) -> Option<&str> {
        self.text.as_deref()
    }

    /// Why it can't be changed here.
    pub fn trouble(&self) -> Option<&str> {
        self.trouble.as_deref()
    }

    /// The columns it may have, when it is a table.
    pub fn columns(&self) -> Option<Columns> {
        columns_of(self.file)
    }

    /// Its cells, when it is a table.
    pub fn grid(&self) -> Option<Grid> {
        let columns = self.columns()?;
        Some(Grid::read(self.text().unwrap_or(""), &columns))
    }

    /// Gives every row a number of its own.
    pub fn number_all(&mut self, next: &mut u64) {
        let rows = self.grid().map_or(0, |grid| grid.rows.len());
        self.rows = (0..rows).map(|_| take(next)).collect();
    }

    /// What the disk has is looked at again. Gives the text before when it is another now.
    pub fn look(&mut self, folder: &Path, next: &mut u64) -> Option<Option<String>> {
        let stamp = stamp(folder, self.file);
        if stamp == self.stamp && self.trouble.is_none() && !is_fresh(stamp) {
            return None;
        }
        let before = self.text.clone();
        match read(folder, self.file, stamp) {
            Ok(text) => {
                self.trouble = None;
                self.stamp = stamp;
                if text == self.text {
                    return None;
                }
                self.set(folder, text, next);
                Some(before)
            }
            Err(why) => {
                self.trouble = Some(why);
                None
            }
        }
    }

    /// Takes another text; rows that are found again keep their numbers.
    pub fn set(&mut self, folder: &Path, text: Option<String>, next: &mut u64) {
        let before = self.grid().unwrap_or_default();
        self.text = text;
        self.stamp = stamp(folder, self.file);
        let after = self.grid().unwrap_or_default();
        self.rows = matched(&before, &self.rows, &after)
            .into_iter()
            .map(|number| number.unwrap_or_else(|| take(next)))
            .collect();
    }
}

/// The next number.
pub fn take(next: &mut u64) -> u64 {
    *next += 1;
    *next - 1
}

/// Takes a file away, if it is there.
pub fn remove(folder: &Path, file: &str) -> Result<(), Failure> {
    let path = folder.join(file);
    match fs::remove_file(&path) {
        Err(why) if why.kind() != ErrorKind::NotFound => Err(Failure::Write { path, why }),
        _ => Ok(()),
    }
}

fn stamp(folder: &Path, file: &str) -> Option<(SystemTime, u64)> {
    let found = fs::metadata(folder.join(file)).ok()?;
    Some((found.modified().ok()?, found.len()))
}

/// Changed so lately that a further change might bear the same time: clocks of disks are coarse.
fn is_fresh(stamp: Option<(SystemTime, u64)>) -> bool {
    let age = stamp.and_then(|(time, _)| time.elapsed().ok());
    age.is_none_or(|age| age.as_secs() < 3)
}

fn read(
    folder: &Path,
    file: &str,
    stamp: Option<(SystemTime, u64)>,
) -> Result<Option<String>, String> {
    if stamp.is_some_and(|(_, size)| size > LARGEST) {
        return Err("the file is too large to be changed here".to_owned());
    }
    match crate::job::read_plain(&folder.join(file)) {
        Ok(bytes) => String::from_utf8(bytes)
            .map(Some)
            .map_err(|_| "the file is not UTF-8 text: save it as CSV UTF-8".to_owned()),
        Err(why) if why.kind() == ErrorKind::NotFound => Ok(None),
        Err(why) => Err(format!("the file can't be read: {why}")),
    }
}
