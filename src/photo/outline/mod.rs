//! Boards looked for in a picture: outlines of known proportions on plain ground.
//!
//! Where a board lies is guessed, so each find has a confidence. It says how plain the ground is,
//! how well the outline fills its four sides, and how near its proportions are to the board's.

mod fit;
mod ground;
mod parts;
mod refine;
mod side;

pub use fit::{Found, SURE, find_boards};

#[cfg(test)]
mod tests;
