//! `plan.json`, written and read back.

mod earlier;
mod read;
mod rows;
mod sawing;
mod sound;
#[cfg(test)]
mod tests;
mod write;

pub use earlier::{Dropped, Earlier, earlier_from_json};
pub use read::{PlanFault, from_json};
pub use sawing::{sawing, sawing_from_json};
pub use write::{to_json, to_json_sawn};
