//! What milling takes from a rough piece: allowances, flattening, blanks, staves.

mod blank;
mod flatten;
mod groups;
mod least;

pub use blank::{blank_length, blank_width, glued_width, joint_gap, widest_gap};
pub use flatten::{flat_enough, flattening_loss};
pub use groups::{Milled, milled_together, thick_enough};
pub use least::{LeastBoard, least_board, stretch_size};
