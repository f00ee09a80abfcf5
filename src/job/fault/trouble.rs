//! What can be wrong, in general; each reader has an enum of its own troubles.

/// Something wrong in a job's files. Its `Display` text completes the sentence that begins
/// with the cell: "it is not above zero".
pub trait Trouble: std::error::Error + Send + Sync {
    /// What should stand there instead.
    fn expected(&self) -> Option<String> {
        None
    }

    /// What to do about it.
    fn hint(&self) -> Option<String> {
        None
    }

    /// How bad it is.
    fn weight(&self) -> Weight {
        Weight::Fault
    }

    /// Whether it says that some front can't be made.
    fn keeps_a_front(&self) -> bool {
        false
    }
}

/// How bad a trouble is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Weight {
    /// The job can't be used.
    #[default]
    Fault,
    /// The job can be used, but the maker should know.
    Warning,
}
