//! Files on their way to a place beside the plan: written, decided on, and put there, all of them.

use super::ours::{LIST, listed};
use super::{Shelf, read_if_there};
use crate::commands::{Failure, Output};

const COMING: &str = ".coming-beside";
const COMING_PART: &str = ".coming-part-beside";

impl Shelf<'_> {
    /// Writes files beside those that are there, decides on them, and puts them in their places.
    pub(super) fn bring_beside(&self, outputs: &[Output]) -> Result<(), Failure> {
        let written = self.write_coming_beside(outputs);
        let decided = written.and_then(|()| self.rename(COMING_PART, COMING));
        if decided.is_err() {
            // A full disk needs the room; what can't be removed now is by the next command.
            let _ = self.remove_folder(COMING_PART);
        }
        decided?;
        self.settle_beside()
    }

    fn write_coming_beside(&self, outputs: &[Output]) -> Result<(), Failure> {
        self.remove_folder(COMING_PART)?;
        for (name, bytes) in outputs {
            self.write(&format!("{COMING_PART}/{name}"), bytes)?;
        }
        let names: String = outputs
            .iter()
            .map(|(name, _)| format!("{name}\n"))
            .collect();
        self.write(&format!("{COMING_PART}/{LIST}"), names.as_bytes())
    }

    /// Puts what was decided on in its place, as often as a crash keeps it from its end.
    pub(super) fn settle_beside(&self) -> Result<(), Failure> {
        let coming = self.at(COMING)?;
        if !coming.exists() {
            return Ok(());
        }
        let names = listed(&coming);
        let mut waiting = Vec::new();
        for name in &names {
            let from = format!("{COMING}/{name}");
            if let Some(bytes) = read_if_there(&self.at(&from)?)? {
                self.make_room(name, &bytes)?;
                waiting.push((from, name));
            }
        }
        self.own_beside(&names)?;
        for (from, name) in waiting {
            self.rename(&from, name)?;
        }
        self.remove_folder(COMING_PART)?;
        self.rename(COMING, COMING_PART)?;
        self.remove_folder(COMING_PART)
    }
}
