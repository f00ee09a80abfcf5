//! How dark a board is: the median colour of its sound wood, and what may be said of it.

mod colour;
mod scale;

pub use colour::{Along, Colour, colour_of};
pub use scale::{Anchor, Scale};

#[cfg(test)]
mod tests;
