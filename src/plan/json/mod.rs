//! `plan.json`, written and read back.

mod read;
mod rows;
#[cfg(test)]
mod tests;
mod write;

pub use read::{PlanFault, from_json};
pub use write::to_json;
