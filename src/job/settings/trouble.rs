//! What can be wrong in `job.toml`, beyond a single value.

use crate::job::fault::Trouble;

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
}

impl Trouble for KeyTrouble {
    fn expected(&self) -> Option<String> {
        match self {
            KeyTrouble::Syntax(_) => None,
            KeyTrouble::Unknown { known, .. } => Some(format!("one of {known}")),
            KeyTrouble::WrongKind { expected } => Some((*expected).to_owned()),
            KeyTrouble::NotATable { name } => Some(format!("[{name}] on a line of its own")),
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
            _ => None,
        }
    }
}
