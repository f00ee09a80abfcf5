//! The files of the job that lies open: what is in them, what the maker changes, what others
//! change beside the page.
//!
//! The files are the truth. Before anything is changed they are looked at again; what somebody
//! else wrote meanwhile is taken in, and a change that was meant for another text than the one
//! that stands there now is handed back to be asked about, never written over it. Every change is
//! first noted in full (`history`), then written file by file, each whole or not at all.

mod change;
mod history;
mod outside;
mod paper;
mod rename;
mod settings;
mod splice;
mod text;

pub use change::{Change, Clash, Refused};
pub use history::Step;
pub use settings::{Kind, SETTINGS, Setting};

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::commands::{Failure, save};
use crate::job::{
    BOARDS_CSV, DEFECTS_CSV, DONE_CSV, FRONTS_CSV, JOB_TOML, OPENINGS_CSV, PHOTOS_CSV, WISHES_CSV,
};
use history::History;
use paper::Paper;
use splice::Splice;

/// The files the page shows and changes, in the order they are written.
pub const FILES: [&str; 8] = [
    JOB_TOML,
    BOARDS_CSV,
    FRONTS_CSV,
    DEFECTS_CSV,
    OPENINGS_CSV,
    PHOTOS_CSV,
    WISHES_CSV,
    DONE_CSV,
];

/// A job's files, open to be changed.
#[derive(Debug)]
pub struct Desk {
    folder: PathBuf,
    papers: BTreeMap<&'static str, Paper>,
    history: History,
    /// The number the next row gets.
    next: u64,
}

/// What a change came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Changed {
    /// The files whose text is another now.
    pub files: Vec<&'static str>,
    /// The numbers of the rows that were added, in their order.
    pub added: Vec<u64>,
}

impl Desk {
    /// Opens the files of a folder, and ends what a crash left half done there.
    ///
    /// # Errors
    /// [`Failure::Write`] when what was left half done can't be ended.
    pub fn open(folder: &Path) -> Result<Desk, Failure> {
        let mut desk = Desk {
            folder: folder.to_owned(),
            papers: BTreeMap::new(),
            history: History::open(folder),
            next: 1,
        };
        for file in FILES {
            desk.papers.insert(file, Paper::read(folder, file));
        }
        desk.settle()?;
        for paper in desk.papers.values_mut() {
            paper.number_all(&mut desk.next);
        }
        Ok(desk)
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// A file as it is known, by its name.
    pub fn paper(&self, file: &str) -> Option<&Paper> {
        self.papers.get(file)
    }

    /// What would be undone and done again next, in words.
    pub fn next_steps(&self) -> (Option<&str>, Option<&str>) {
        self.history.next()
    }

    /// Ends what was noted and not written when the program was ended.
    fn settle(&mut self) -> Result<(), Failure> {
        let papers = &self.papers;
        let marks = |file: &str| {
            papers
                .get(file)
                .map_or(0, |paper| splice::mark(paper.text()))
        };
        for splice in self.history.left_over(marks) {
            self.put(&[splice])?;
        }
        Ok(())
    }

    /// Makes changes: all of them, or none. `label` says in words what is done; changes of one
    /// `group` are undone together.
    ///
    /// # Errors
    /// [`Refused`]; nothing is changed then, but what was changed outside is taken in.
    pub fn change(
        &mut self,
        label: &str,
        group: &str,
        changes: &[Change],
    ) -> Result<Changed, Refused> {
        let mut changed = self.look();
        let mut work = change::Work::new(&self.papers, &mut self.next);
        for change in changes {
            work.apply(change)?;
        }
        let (texts, rows, added) = work.finish()?;
        let splices: Vec<Splice> = texts
            .iter()
            .filter_map(|(file, text)| Splice::between(file, self.papers[*file].text(), Some(text)))
            .collect();
        self.note_and_put(label, group, splices, &mut changed)?;
        for (file, rows) in rows {
            if let Some(paper) = self.papers.get_mut(file) {
                paper.rows = rows;
            }
        }
        changed.added = added;
        Ok(changed)
    }

    /// Replaces the whole text of files, as the commands do that know a file's format.
    ///
    /// # Errors
    /// As for [`Desk::change`].
    pub fn replace(&mut self, label: &str, files: &[(&str, String)]) -> Result<Changed, Refused> {
        let mut changed = self.look();
        let splices = files.iter().filter_map(|(file, text)| {
            let paper = self.papers.get(file)?;
            Splice::between(paper.file, paper.text(), Some(text))
        });
        let splices: Vec<Splice> = splices.collect();
        self.note_and_put(label, "", splices, &mut changed)?;
        Ok(changed)
    }

    /// Takes back the last step, or with `again` does the one again that was taken back last.
    ///
    /// # Errors
    /// [`Refused::Nothing`] when there is none.
    pub fn undo(&mut self, again: bool) -> Result<Changed, Refused> {
        let mut changed = self.look();
        let mut turned = false;
        // A step that somebody else has taken back already changes nothing: the one before is meant.
        while !turned {
            for step in self.history.turn(again).ok_or(Refused::Nothing)? {
                let splices: Vec<Splice> = match again {
                    true => step.files,
                    false => step.files.iter().rev().map(Splice::inverse).collect(),
                };
                for splice in splices {
                    let before = splice::mark(self.papers[splice.file()].text());
                    turned |= before == splice.marks().0;
                    self.put(std::slice::from_ref(&splice))?;
                    changed.files.push(splice.file());
                }
            }
        }
        changed.files.sort_unstable();
        changed.files.dedup();
        Ok(changed)
    }

    fn note_and_put(
        &mut self,
        label: &str,
        group: &str,
        splices: Vec<Splice>,
        changed: &mut Changed,
    ) -> Result<(), Refused> {
        if splices.is_empty() {
            return Ok(());
        }
        self.history.note(label, group, &splices)?;
        changed.files.extend(splices.iter().map(Splice::file));
        changed.files.sort_unstable();
        changed.files.dedup();
        if let Err(why) = self.put(&splices) {
            self.history.drop_last();
            return Err(why.into());
        }
        Ok(())
    }

    /// Writes files as spliced.
    fn put(&mut self, splices: &[Splice]) -> Result<(), Failure> {
        for splice in splices {
            let Some(paper) = self.papers.get_mut(splice.file()) else {
                continue;
            };
            let Some(text) = splice.applied(paper.text()) else {
                continue;
            };
            match &text {
                Some(text) => save(&self.folder, paper.file, text, !paper.backed_up)?,
                None => paper::remove(&self.folder, paper.file)?,
            }
            paper.backed_up = true;
            paper.set(&self.folder, text, &mut self.next);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
