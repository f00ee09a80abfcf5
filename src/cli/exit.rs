//! How a command ended, as the shell sees it.

use std::process::ExitCode;

use grainrow::commands::Failure;

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// All went well.
    Done = 0,
    /// Bad input or usage.
    BadInput = 2,
    /// Some front can't be made.
    NotMade = 3,
    /// Something could not be written.
    NotWritten = 4,
    /// Stopped by Ctrl-C, with the best plan written.
    Stopped = 130,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}

impl From<&Failure> for Exit {
    fn from(failure: &Failure) -> Exit {
        match failure {
            Failure::Faults(_)
            | Failure::InTheWay { .. }
            | Failure::NoPrices
            | Failure::NoPurchase { .. }
            | Failure::OtherVolumes { .. }
            | Failure::Limits(_)
            | Failure::NothingOnOffer
            | Failure::Obstacles(_)
            | Failure::NoTrial
            | Failure::NoWish { .. }
            | Failure::WishAfterCut
            | Failure::NoPhotos
            | Failure::AlreadyBegun
            | Failure::NoPlan { .. }
            | Failure::NoEarlierPlan { .. }
            | Failure::Unreadable { .. }
            | Failure::Begun(_)
            | Failure::NotOurs { .. }
            | Failure::Leads { .. }
            | Failure::Read { .. }
            | Failure::CutSince { .. } => Exit::BadInput,
            Failure::BreaksRules(_) => Exit::NotMade,
            Failure::Rejected(_) | Failure::Busy { .. } | Failure::Write { .. } => Exit::NotWritten,
        }
    }
}
