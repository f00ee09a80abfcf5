//! Warnings of what is probably a slip of the pen.

use crate::job::fault::{Trouble, Weight};
use crate::measure::Unit;

/// Something that can be used as it is written, and is probably not meant.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Slip {
    /// A fraction such as 13/17.
    #[error("{fraction} is a fraction no tape shows")]
    OddFraction {
        /// The fraction.
        fraction: String,
    },
    /// A board wider than it is long.
    #[error("the board is wider than it is long")]
    Swapped,
    /// A board too short to be of use.
    #[error("so short a board is seldom worth measuring")]
    Short {
        /// The job's unit.
        unit: Unit,
    },
    /// A board that its trims use up.
    #[error("nothing can be cut from this board: {trims} {trim} off each take all of it")]
    UsedUp {
        /// `end trims of` or `edge trims of`.
        trims: &'static str,
        /// How much each takes.
        trim: String,
    },
    /// Longer, wider or larger than such pieces are.
    #[error("few are {what} than {most}")]
    Seldom {
        /// `longer`, `wider` or `larger`.
        what: &'static str,
        /// The most that is usual.
        most: String,
    },
    /// Thicker than boards are.
    #[error("few are thicker than {most}")]
    Thick {
        /// The most that is usual.
        most: String,
        /// The quarters it was probably meant to be: `5/4`.
        quarters: Option<String>,
    },
    /// A name that only its capitals set apart from another.
    #[error("only its capitals set it apart from `{other}` in line {line}")]
    Capitals {
        /// The other name.
        other: String,
        /// Where it stands first.
        line: usize,
    },
    /// A front not as high (or wide) as the first of its run.
    #[error("the first front of this run, in line {line}, has a {column} of {usual}")]
    Uneven {
        /// `height` or `width`.
        column: &'static str,
        /// Of the run's first front.
        usual: String,
        /// Where that stands.
        line: usize,
    },
    /// An arch steeper than half a circle.
    #[error("it is more than half the width, and no arc of a circle stands so high")]
    SteepArch,
}

impl Trouble for Slip {
    fn hint(&self) -> Option<String> {
        Some(match self {
            Slip::OddFraction { .. } => "it is read as it stands".into(),
            Slip::Swapped => "are `length` and `width` swapped? Length is along the grain".into(),
            Slip::Short { unit: Unit::Inch } => "feet are written with their mark: 8'".into(),
            Slip::Short { unit: Unit::Mm } => "metres are written with their unit: 2.4 m".into(),
            Slip::UsedUp { .. } => {
                "leave it out, or change `end_trim` or `edge_trim` in job.toml".into()
            }
            Slip::Seldom { .. } => "is a digit too many, or another unit meant?".into(),
            Slip::Thick { quarters, .. } => match quarters {
                Some(quarters) => format!("did you mean `{quarters}`?"),
                None => "is a digit too many, or another unit meant?".into(),
            },
            Slip::Capitals { .. } => "if both are the same, spell them alike".into(),
            Slip::Uneven { .. } => "if the fronts are meant to differ, nothing is wrong".into(),
            Slip::SteepArch => "`rise` is how far the top stands above its corners".into(),
        })
    }

    fn weight(&self) -> Weight {
        Weight::Warning
    }
}
