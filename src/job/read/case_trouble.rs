//! What can be wrong with `[case]`, beyond a single value.

use super::trouble::did_you_mean;
use crate::job::fault::{Trouble, Weight};

/// What can be wrong with the rows of `[case]`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CaseTrouble {
    /// Neither a run nor a front.
    #[error("there is no such run or front in fronts.csv")]
    UnknownName {
        /// What it was probably meant to be.
        nearest: Option<String>,
    },
    /// A front named twice, by itself or by its run.
    #[error("front {front} stands in these rows already")]
    Twice {
        /// The front.
        front: String,
    },
    /// A row that is wider than the case.
    #[error("this row's fronts are {need} wide together, and the case {most}")]
    RowTooWide {
        /// What they take.
        need: String,
        /// What there is.
        most: String,
    },
    /// Rows that are higher than the case.
    #[error("these rows are {need} high together, and the case {most}")]
    RowsTooHigh {
        /// What they take.
        need: String,
        /// What there is.
        most: String,
    },
}

impl Trouble for CaseTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            CaseTrouble::UnknownName { .. } => "the name of a run or of a front".into(),
            CaseTrouble::Twice { .. } => "each front in one row".into(),
            CaseTrouble::RowTooWide { most, .. } => format!("at most {most}"),
            CaseTrouble::RowsTooHigh { most, .. } => format!("at most {most}"),
        })
    }

    fn hint(&self) -> Option<String> {
        match self {
            CaseTrouble::UnknownName { nearest } => did_you_mean(nearest.as_deref()),
            CaseTrouble::Twice { .. } => None,
            CaseTrouble::RowTooWide { .. } | CaseTrouble::RowsTooHigh { .. } => Some(
                "`width` and `height` are those of the case, outside; the plan does not depend on \
                 them, only the drawing does"
                    .into(),
            ),
        }
    }

    fn weight(&self) -> Weight {
        match self {
            CaseTrouble::RowTooWide { .. } | CaseTrouble::RowsTooHigh { .. } => Weight::Warning,
            _ => Weight::Fault,
        }
    }
}
