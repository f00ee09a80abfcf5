//! What is wrong with a job's files: every fault with its place, what was expected and a hint.

mod faults;
mod nearest;
mod place;
mod show;
mod trouble;

pub use faults::Faults;
pub use place::{Place, Source};
pub use show::Shown;
pub use trouble::{Trouble, Weight};

pub(super) use nearest::nearest;

use std::fmt;
use std::sync::Arc;

/// One thing that is wrong, and where.
#[derive(Clone, Debug)]
pub struct Fault {
    /// Where it stands.
    pub place: Place,
    /// What it is.
    pub trouble: Arc<dyn Trouble>,
}

impl Fault {
    /// A fault at a place.
    pub fn new(place: Place, trouble: impl Trouble + 'static) -> Fault {
        Fault {
            place,
            trouble: Arc::new(trouble),
        }
    }

    /// Whether the job can be used in spite of it.
    pub fn is_warning(&self) -> bool {
        self.trouble.weight() == Weight::Warning
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.trouble)
    }
}

impl std::error::Error for Fault {}

impl serde::Serialize for Fault {
    /// A flat record: `file`, `line`, `column`, `cell`, `weight`, `problem`, `expected`, `hint`.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct;
        let mut record = serializer.serialize_struct("Fault", 8)?;
        record.serialize_field("file", self.place.file())?;
        record.serialize_field("line", &self.place.line())?;
        record.serialize_field("column", &self.place.column())?;
        record.serialize_field("cell", &self.place.cell())?;
        record.serialize_field("weight", &self.trouble.weight())?;
        record.serialize_field("problem", &self.trouble.to_string())?;
        record.serialize_field("expected", &self.trouble.expected())?;
        record.serialize_field("hint", &self.trouble.hint())?;
        record.end()
    }
}
