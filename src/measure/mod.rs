//! Exact lengths, board feet and tones, and the one place where they are printed.

mod board_feet;
mod length;
mod tone;

pub use board_feet::BoardFeet;
pub use length::{Length, Ruler, Unit};
pub use tone::Tone;
