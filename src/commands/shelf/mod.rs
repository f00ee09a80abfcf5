//! The log of plans: `out/` holds the present one, `out/before/<n>/` the earlier ones.
//!
//! A new plan is first written in full beside the present one, under `.coming-part`. Renaming that
//! to `.coming` decides that it will be the present one; whatever is left to do then (shelving the
//! present one, putting the new one in its place) can be done again and again with the same end.
//! So a crash leaves either the old plan, or a new one that the next command puts in its place.
//!
//! `out/` is the maker's folder too. What is not known to be grainrow's is never overwritten
//! ([`ours`]), nothing is reached through a link or by a name that leads elsewhere ([`inside`]), and
//! one command at a time is at work in it ([`busy`]).

mod beside;
mod busy;
mod coming;
mod inside;
mod ours;

use std::cell::{OnceCell, RefCell};
use std::io;
use std::path::{Path, PathBuf};

use super::disk::Disk;
use super::{Failure, Output};
use crate::job::read_plain;
use busy::Busy;
use coming::Order;
use inside::inside;

pub(super) use ours::listed;

/// Earlier plans, by number.
const BEFORE: &str = "before";
/// Plans that were present when `recut --undo` was asked for.
const UNDONE: &str = "undone";

/// An output folder, while one command is at work in it.
pub(super) struct Shelf<'a> {
    disk: &'a dyn Disk,
    /// The output folder.
    out: &'a Path,
    /// The job's.
    folder: &'a Path,
    /// Keeps other commands away; not yet where there was no folder to begin with.
    busy: OnceCell<Busy>,
    set_aside: RefCell<Vec<String>>,
}

impl<'a> Shelf<'a> {
    /// Opens an output folder for one command, and ends what a crash left half done there.
    ///
    /// # Errors
    /// [`Failure::Busy`] when another command is at work there, or what was left half done can't
    /// be ended; asking again later does no harm.
    pub fn open(disk: &'a dyn Disk, out: &'a Path, folder: &'a Path) -> Result<Shelf<'a>, Failure> {
        let shelf = Shelf {
            disk,
            out,
            folder,
            busy: OnceCell::new(),
            set_aside: RefCell::default(),
        };
        if out.is_dir() {
            shelf.take()?;
        }
        Ok(shelf)
    }

    /// Keeps others away from the folder, which is there, and settles it.
    fn take(&self) -> Result<(), Failure> {
        if self.busy.get().is_none() {
            let busy = Busy::take(&self.at(busy::FILE)?)?;
            self.busy.get_or_init(|| busy);
        }
        self.settle()?;
        self.settle_beside()
    }

    /// The maker's own files that were in the way so far, by where they are now in the folder.
    pub fn set_aside(&self) -> Vec<String> {
        self.set_aside.borrow().clone()
    }

    /// Makes these files the present plan, and shelves the one that is there. `marks` is what
    /// done.csv says from now on, where that changes with the plan.
    ///
    /// # Errors
    /// When something can't be written; the present plan is then whole, or the new one is decided
    /// on and [`Shelf::open`] ends it.
    pub fn replace(&self, outputs: &[Output], marks: Option<&str>) -> Result<(), Failure> {
        self.make_ready()?;
        let number = self.next_number(BEFORE)?;
        let order = Order {
            shelf: (BEFORE, number),
            taken: None,
        };
        self.bring(outputs, &order, marks)
    }

    /// Writes files beside a plan: those of `fit`, `estimate`, `photo` and the like.
    ///
    /// # Errors
    /// As for [`Shelf::replace`]: all are as they were, or all will be new.
    pub fn put_beside(&self, outputs: &[Output]) -> Result<(), Failure> {
        self.make_ready()?;
        self.bring_beside(outputs)
    }

    /// The folder is there, and nobody else is at work in it.
    fn make_ready(&self) -> Result<(), Failure> {
        wrote(self.out, self.disk.make_folder(self.out))?;
        self.take()
    }

    /// The number of the last earlier plan, and its files; not those the maker threw away.
    ///
    /// # Errors
    /// When there is none, or it can't be read.
    pub fn earlier(&self) -> Result<(u32, Vec<Output>), Failure> {
        let Some(number) = self.numbers(BEFORE)?.last().copied() else {
            return Err(Failure::NoEarlierPlan {
                out: self.out.to_owned(),
            });
        };
        let mut files = Vec::new();
        for name in listed(&self.at(&format!("{BEFORE}/{number}"))?) {
            let path = self.at(&format!("{BEFORE}/{number}/{name}"))?;
            if let Some(bytes) = read_if_there(&path)? {
                files.push((name, bytes));
            }
        }
        Ok((number, files))
    }

    /// Makes an earlier plan the present one again. The one that is there goes to `out/undone/`.
    ///
    /// # Errors
    /// As for [`Shelf::replace`].
    pub fn go_back(
        &self,
        number: u32,
        files: &[Output],
        marks: Option<&str>,
    ) -> Result<(), Failure> {
        let order = Order {
            shelf: (UNDONE, self.next_number(UNDONE)?),
            taken: Some(number),
        };
        self.bring(files, &order, marks)
    }

    /// The number of the present plan, counted from the first.
    pub fn number(&self) -> Result<u32, Failure> {
        self.next_number(BEFORE)
    }

    fn next_number(&self, shelf: &str) -> Result<u32, Failure> {
        let numbers = self.numbers(shelf)?;
        Ok(numbers.last().map_or(1, |last| last.saturating_add(1)))
    }

    /// The numbers of the plans on a shelf, least first.
    fn numbers(&self, shelf: &str) -> Result<Vec<u32>, Failure> {
        let entries = std::fs::read_dir(self.at(shelf)?).into_iter().flatten();
        let mut numbers: Vec<u32> = entries
            .flatten()
            .filter_map(|entry| entry.file_name().to_str()?.parse().ok())
            .collect();
        numbers.sort_unstable();
        Ok(numbers)
    }

    /// The path of something in the folder, by no way that leads out of it.
    fn at(&self, name: &str) -> Result<PathBuf, Failure> {
        inside(self.out, name)
    }

    fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let path = self.at(name)?;
        let folder = path.parent().unwrap_or(self.out);
        wrote(folder, self.disk.make_folder(folder))?;
        wrote(&path, self.disk.write(&path, bytes))
    }

    fn rename(&self, from: &str, to: &str) -> Result<(), Failure> {
        let (from, to) = (self.at(from)?, self.at(to)?);
        let folder = to.parent().unwrap_or(self.out);
        wrote(folder, self.disk.make_folder(folder))?;
        wrote(&to, self.disk.rename(&from, &to))
    }

    fn remove_folder(&self, name: &str) -> Result<(), Failure> {
        let path = self.at(name)?;
        wrote(&path, self.disk.remove_folder(&path))
    }
}

/// The bytes of a file, if it is there.
fn read_if_there(path: &Path) -> Result<Option<Vec<u8>>, Failure> {
    match read_plain(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(why) => Err(Failure::Read {
            path: path.to_owned(),
            why,
        }),
    }
}

fn wrote(path: &Path, result: io::Result<()>) -> Result<(), Failure> {
    result.map_err(|why| Failure::Write {
        path: path.to_owned(),
        why,
    })
}

#[cfg(test)]
mod tests;
