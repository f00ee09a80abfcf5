//! One call a command: what `grainrow` does, without a terminal.
//!
//! Each function takes what the command line says as plain data, does the whole job (reading,
//! planning, checking, writing) and returns what there is to tell.

mod check;
mod estimate;
mod failure;
mod fit;
mod outputs;
mod plan;
mod short_list;
mod start;
mod tally;
mod write;

pub use check::{Checked, check};
pub use estimate::{EstimateOrder, Estimated, estimate};
pub use failure::Failure;
pub use fit::{FittedFronts, fit};
pub use plan::{PlanOrder, Planned, plan};
pub use short_list::short_list;
pub use start::start;
pub use tally::{Tallied, TallyLine, TallyTotal, tally};
pub use write::{write_all, write_anew};

/// A file to write: its path within the output folder, and its bytes.
pub type Output = (String, Vec<u8>);
