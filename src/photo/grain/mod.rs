//! Which way the grain runs.
//!
//! By the structure tensor: Bigun and Granlund, Optimal orientation detection of linear symmetry,
//! ICCV 1987. Grain runs nearly along a board; what lies across it (the marks of a saw, an end) is
//! left out, and each small block has one vote, weighed by how much grain it shows.

mod slope;

pub use slope::{STEEP, Slope, slope_of, slopes};

#[cfg(test)]
mod tests;
