//! What others change beside the page: an editor, a spreadsheet, another command.

use super::splice::Splice;
use super::{Changed, Desk, FILES};

impl Desk {
    /// Looks whether files were changed beside the page, and takes that in: rows that are found
    /// again keep their numbers, and the step can be taken back like any other.
    pub fn look(&mut self) -> Changed {
        self.look_as("")
    }

    /// The same after a command changed files for this page: `label` says in words what it did.
    pub fn look_as(&mut self, label: &str) -> Changed {
        let mut changed = Changed::default();
        for file in FILES {
            let Some(paper) = self.papers.get_mut(file) else {
                continue;
            };
            let Some(before) = paper.look(&self.folder, &mut self.next) else {
                continue;
            };
            changed.files.push(file);
            // What now stands there is no longer what the page began with.
            paper.backed_up = false;
            if let Some(splice) = Splice::between(file, before.as_deref(), paper.text()) {
                let label = match label {
                    "" => format!("{file} changed outside this page"),
                    label => label.to_owned(),
                };
                // A change that can't be noted can't be taken back, and is there all the same.
                let _ = self.history.note(&label, "", &[splice]);
            }
        }
        changed
    }
}
