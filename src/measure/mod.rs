//! Exact lengths, board feet and tones, and the one place where they are read and printed.

mod board_feet;
mod length;
mod number;
mod parse;
mod plain;
mod quarters;
mod sold;
mod tally;
mod tone;

pub use board_feet::BoardFeet;
pub use length::{Length, NM_PER_INCH, NM_PER_MM, Ruler, Unit};
pub use parse::LengthError;
pub use sold::thickness_sold;
pub use tally::{Half, Surface, Tally};
pub use tone::{TONE_WORDS, Tone, ToneError};
