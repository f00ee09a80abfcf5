//! What can be wrong with a row of `photos.csv`, and with tones that photographs are to tell.

use crate::job::fault::{Trouble, Weight};

/// What can be wrong with a row of `photos.csv`, beyond its cells.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PhotoTrouble {
    /// A path that leads out of the job's folder.
    #[error("it leads out of the job's folder")]
    Outside,
    /// A board that is not in `boards.csv`.
    #[error("there is no such board in boards.csv")]
    UnknownBoard {
        /// The board it was probably meant to be.
        nearest: Option<String>,
    },
    /// A copy the board does not have.
    #[error("the board has no such copy")]
    UnknownCopy {
        /// How many it has.
        copies: usize,
    },
    /// No copy named, of a board there are several of.
    #[error("there are {copies} of board {board}, and it does not say which of them is shown")]
    WhichCopy {
        /// The board.
        board: String,
        /// How many there are.
        copies: usize,
    },
    /// A part that is not on the board.
    #[error("board {board} ends before it")]
    OffBoard {
        /// The board.
        board: String,
        /// How long it is.
        long: String,
    },
    /// A part that ends before it begins.
    #[error("it does not lie beyond `from`")]
    Backwards,
    /// Some corners, but not all.
    #[error("the corner {missing} is missing")]
    FewCorners {
        /// Its column.
        missing: &'static str,
    },
    /// Corners that do not go round.
    #[error("the four corners do not go round a board")]
    NoRectangle,
    /// A tone that no photograph has told yet.
    #[error("no photograph has told the tone of {board} yet")]
    NoTone {
        /// The board, with its copy where there are several.
        board: String,
    },
    /// A picture named in the old column.
    #[error("pictures are named in photos.csv now")]
    OldColumn {
        /// The row it would have there.
        row: String,
    },
}

impl Trouble for PhotoTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            PhotoTrouble::Outside => "the path of a picture in the job's folder".into(),
            PhotoTrouble::UnknownBoard { .. } => "a board of boards.csv".into(),
            PhotoTrouble::UnknownCopy { copies } | PhotoTrouble::WhichCopy { copies, .. } => {
                format!("a copy from 1 to {copies}")
            }
            PhotoTrouble::OffBoard { long, .. } => format!("0 to {long}"),
            PhotoTrouble::Backwards => "more than `from`".into(),
            PhotoTrouble::FewCorners { .. } => "all four corners, or none".into(),
            PhotoTrouble::NoRectangle => {
                "near edge at `from`, near edge at `to`, far edge at `to`, far edge at `from`"
                    .into()
            }
            PhotoTrouble::NoTone { .. } | PhotoTrouble::OldColumn { .. } => return None,
        })
    }

    fn hint(&self) -> Option<String> {
        Some(match self {
            PhotoTrouble::Outside => "copy the picture into the folder `photos` of the job".into(),
            PhotoTrouble::UnknownBoard { nearest } => {
                return nearest
                    .as_ref()
                    .map(|name| format!("did you mean `{name}`?"));
            }
            PhotoTrouble::FewCorners { .. } => {
                "without corners they are looked for; `grainrow photo JOB --accept corners` writes \
                 those found"
                    .into()
            }
            PhotoTrouble::NoTone { .. } => {
                "`grainrow photo JOB` measures it from a photograph; or type a tone, 0 to 10".into()
            }
            PhotoTrouble::OldColumn { row } => {
                format!("write `{row}` below `photo,board` into photos.csv")
            }
            _ => return None,
        })
    }

    fn weight(&self) -> Weight {
        match self {
            PhotoTrouble::OldColumn { .. } => Weight::Warning,
            _ => Weight::Fault,
        }
    }
}
