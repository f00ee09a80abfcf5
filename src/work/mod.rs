//! The order of work: how a board's pieces are freed from it, and what must stay joined until it
//! is flat.
//!
//! One account, which packet, diagrams, marks and `mark` follow: a board is crosscut into
//! sections; a section gets a straight edge and is ripped into strips from it ([`Rip`]); a strip is
//! crosscut into pieces ([`Joined`]), each at least `shortest_safe` long where the strip holds that
//! much. A piece is flattened and planed as one, and only then cut apart into blanks.

mod board;
mod marks;
mod pieces;
mod rips;
mod staves;
#[cfg(test)]
mod tests;

pub use board::{BoardWork, SectionWork, StripWork};
pub use marks::{Mark, MarkKind, joined_names, marks, piece_name};
pub use pieces::Joined;
pub use rips::{Rip, RipKind};
pub use staves::{stave_share, stave_span};
