//! One face of a board: seen in its pictures, joined, evened and measured.

mod measure;
mod sight;

pub use measure::{Measured, measure};
pub use sight::{Sight, View, see};

#[cfg(test)]
mod tests;
