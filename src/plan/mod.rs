//! A plan as plain data: its figures, its file, and the checker that trusts none of them.
//!
//! * [`Plan`] and its parts: which front comes from where on which board.
//! * [`totals`] computes the figures of a plan.
//! * [`to_json`] and [`from_json`] are `plan.json`.
//! * [`check`] tests a plan against every rule of cutting, and every figure of its totals.

mod check;
#[cfg(test)]
pub(crate) mod fixture;
mod json;
mod limits;
mod model;
mod sawn;
mod totals;

pub use check::{Rule, Violation, check, check_recut};
pub use json::{
    Dropped, Earlier, PlanFault, earlier_from_json, from_json, sawing, sawing_from_json, to_json,
    to_json_sawn,
};
pub use limits::Limits;
pub use model::{
    Blank, BoardPlan, End, Face, Kept, Money, NotMade, Plan, Reads, Section, Strip, Totals,
};
pub(crate) use sawn::placed;
pub use sawn::{Fate, Sawn, SawnPiece, Skeleton};
pub(crate) use totals::prove;
pub use totals::{mean_price, missing_area, totals};
