//! Where in a job's files something stands, kept so that a fault found later can point there.

use std::collections::BTreeMap;

use crate::job::fault::{Place, Source};

/// The places of a section's keys or a row's cells.
///
/// They say nothing about the job itself: any two are equal.
#[derive(Clone, Debug, Default)]
pub struct Places {
    known: BTreeMap<&'static str, Place>,
}

impl Places {
    /// Remembers where something stands.
    pub fn keep(&mut self, name: &'static str, place: Place) {
        self.known.insert(name, place);
    }

    /// Whether it was written down.
    pub fn has(&self, name: &str) -> bool {
        self.known.contains_key(name)
    }

    /// Where the first of `names` that was written down stands; a nameless spot in `file` when
    /// none was.
    pub fn at(&self, file: &str, names: &[&'static str]) -> Place {
        let found = names.iter().find_map(|name| self.known.get(name));
        found
            .cloned()
            .unwrap_or_else(|| Place::file_of(&Source::new(file, "")))
    }
}

impl PartialEq for Places {
    fn eq(&self, _: &Places) -> bool {
        true
    }
}
