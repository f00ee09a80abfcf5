//! A board lies flat and is looked at from anywhere: from its plane to the picture and back.
//!
//! Places on a board are in inches: along from its hook end, across from its near edge.

mod homography;
mod solve;
mod straighten;
mod strip;

pub use homography::{Homography, Point};
pub use solve::{least_squares, solve};
pub use straighten::straighten;
pub use strip::{Strip, Window, luminance};

#[cfg(test)]
mod tests;
