//! Colours: sRGB as files have them, linear light to reckon with, CIE Lab to compare by.

mod delta;
mod lab;
mod srgb;

pub use delta::delta_e;
pub use lab::Lab;
pub use srgb::{linear_lights, to_byte, to_linear};

#[cfg(test)]
mod tests;
