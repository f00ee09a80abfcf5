//! Plans, against exhaustive search, general solvers, published instances and themselves.

#[path = "../common/mod.rs"]
mod common;

mod brute_by_hand;
mod brute_force;
mod equals;
mod estimate_loss;
mod generated_jobs;
mod metamorphic;
mod not_made;
mod oracle;
mod published;
mod reference;
mod ways;
mod whole_boards;
