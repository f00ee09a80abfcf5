//! Work in progress: what is marked, and plans around it.

#[path = "../common/mod.rs"]
mod common;

mod contradictions;
mod recut;
mod recut_brute;
mod recut_rack;
mod recut_spent;
mod recut_stories;
mod short_rests;
