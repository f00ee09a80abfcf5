//! All faults of a job together.

use std::fmt;

use super::Fault;

/// Everything found wrong in a job's files, in the order it was found.
#[derive(Clone, Debug, Default, serde::Serialize)]
#[serde(transparent)]
pub struct Faults {
    list: Vec<Fault>,
}

impl Faults {
    /// No faults yet.
    pub fn new() -> Faults {
        Faults::default()
    }

    /// Adds one.
    pub fn push(&mut self, fault: Fault) {
        self.list.push(fault);
    }

    /// The value of a result; its fault is added to the list.
    pub fn keep<T>(&mut self, result: Result<T, Fault>) -> Option<T> {
        result.map_err(|fault| self.push(fault)).ok()
    }

    /// Puts them in the order of `files`, and those of a file in the order they stand in it.
    pub fn sort(&mut self, files: &[&str]) {
        self.list.sort_by_key(|fault| {
            let file = files.iter().position(|file| *file == fault.place.file());
            let start = fault.place.span().map(|span| span.start);
            (file.unwrap_or(files.len()), start)
        });
    }

    /// All of them.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.list.iter()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether nothing is wrong.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether the job can't be used: something weighs more than a warning.
    pub fn forbid_use(&self) -> bool {
        self.list.iter().any(|fault| !fault.is_warning())
    }
}

impl fmt::Display for Faults {
    /// One line a fault.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (position, fault) in self.list.iter().enumerate() {
            if position > 0 {
                writeln!(f)?;
            }
            write!(f, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}

impl<'a> IntoIterator for &'a Faults {
    type Item = &'a Fault;
    type IntoIter = std::slice::Iter<'a, Fault>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}
