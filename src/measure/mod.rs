//! Exact lengths, volumes and tones, and the one place where they are read and printed.

mod board_feet;
mod date;
mod length;
mod number;
mod parse;
mod plain;
mod quarters;
mod sold;
mod tally;
mod tone;
mod volume;

pub use board_feet::BoardFeet;
pub use length::{Length, NM_PER_INCH, Ruler, Unit};
pub use number::odd_fraction;
pub use parse::LengthError;
pub use plain::decimal_points;
pub use sold::thickness_sold;
pub use tally::{Half, Surface, Tally};
pub use tone::{TONE_WORDS, Tone, ToneError};
pub use volume::{LITRES_IN_BOARD_FOOT, LITRES_IN_M3, Volume, volume_names};
