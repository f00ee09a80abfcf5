//! The light that fell on a board, as white paper beside it shows.
//!
//! Wood may be darker at one end than at the other, and so may the light: the wood itself can't tell
//! which. So the light is known from paper alone, and where no paper lies it is known less well.

mod cover;
mod fit;
mod paper;

pub use cover::{Cover, Missing};
pub use fit::Light;
pub use paper::{Paper, find_paper, in_rectangle};

#[cfg(test)]
mod tests;
