//! What can be wrong in `job.toml`, beyond a single value.

use crate::job::fault::{Trouble, Weight};
use crate::measure::Unit;

/// What can be wrong in `job.toml`, beyond a single value.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum KeyTrouble {
    /// The file is not TOML.
    #[error("it can't be read as TOML: {0}")]
    Syntax(String),
    /// A key or a section nobody knows.
    #[error("there is no such setting here")]
    Unknown {
        /// The key it was probably meant to be.
        nearest: Option<String>,
        /// The keys there are.
        known: String,
    },
    /// A value of the wrong kind.
    #[error("it is not of the right kind")]
    WrongKind {
        /// The right one.
        expected: &'static str,
    },
    /// A plain value where a section belongs.
    #[error("it is a section, not a single setting")]
    NotATable {
        /// The section.
        name: &'static str,
    },
    /// A number that is none of the few allowed.
    #[error("it is none of the numbers allowed here")]
    NotOneOf {
        /// Those allowed.
        allowed: String,
    },
    /// Rows, columns, margins and gaps that leave labels too small to write on.
    #[error("so many rows and columns leave labels too small to write on")]
    LabelsTooSmall {
        /// The job's unit.
        unit: Unit,
    },
    /// A fraction of an inch in a metric job.
    #[error("it is a fraction of an inch, and this job is in millimetres: whole ones are printed")]
    FractionOfInch,
    /// A first label that is not on the sheet.
    #[error("there is no such label on the sheet")]
    NoSuchLabel {
        /// The last one there is.
        last: i64,
    },
}

impl Trouble for KeyTrouble {
    fn expected(&self) -> Option<String> {
        match self {
            KeyTrouble::Syntax(_) => None,
            KeyTrouble::Unknown { known, .. } => Some(format!("one of {known}")),
            KeyTrouble::WrongKind { expected } => Some((*expected).to_owned()),
            KeyTrouble::NotATable { name } => Some(format!("[{name}] on a line of its own")),
            KeyTrouble::LabelsTooSmall { unit } => Some(match unit {
                Unit::Inch => "labels of at least 1 in by 1/2 in".to_owned(),
                Unit::Mm => "labels of at least 25 by 12 mm".to_owned(),
            }),
            KeyTrouble::FractionOfInch => {
                Some("1 for whole millimetres, 0.5 for halves".to_owned())
            }
            KeyTrouble::NoSuchLabel { last } => Some(format!("a number from 1 to {last}")),
            KeyTrouble::NotOneOf { allowed } => Some(format!("one of {allowed}")),
        }
    }

    fn hint(&self) -> Option<String> {
        match self {
            KeyTrouble::Syntax(_) => {
                Some("write key = \"value\", one a line, under its [section]".to_owned())
            }
            KeyTrouble::Unknown { nearest, .. } => nearest
                .as_ref()
                .map(|name| format!("did you mean `{name}`?")),
            KeyTrouble::FractionOfInch => Some("remove the line for whole millimetres".to_owned()),
            _ => None,
        }
    }

    fn weight(&self) -> Weight {
        match self {
            KeyTrouble::FractionOfInch => Weight::Warning,
            _ => Weight::Fault,
        }
    }
}
