//! One call a command: what `grainrow` does, without a terminal.
//!
//! Each function takes what the command line says as plain data, does the whole job (reading,
//! planning, checking, writing) and returns what there is to tell.

mod by_hand;
mod check;
#[cfg(test)]
mod crash;
mod disk;
mod estimate;
mod failure;
mod fit;
mod joined;
mod litres;
mod mark;
mod outputs;
mod photo;
mod plan;
mod rack;
mod recut;
mod save;
mod shelf;
mod shop;
mod short_list;
mod sized;
mod start;
mod tally;
mod wish;
mod write;

pub use by_hand::{ByHand, check_plan};
pub use check::{Checked, check};
pub use estimate::{EstimateOrder, Estimated, estimate};
pub use failure::Failure;
pub use fit::{FittedFronts, fit, outline};
pub use litres::{Litres, LitresLine, LitresTotal};
pub use mark::{Happened, MarkOrder, Marked, lengths_of, mark};
pub use outputs::file_name;
pub use photo::{
    Accept, Accepted, PhotoOrder, Photographed, Picked, add_picture, photo, photographed, picture,
};
pub use plan::{FORGOTTEN, Found, MostWood, PlanOrder, Planned, find, hand_over, plan, sketch};
pub use rack::{RackLine, Racked, rack_of};
pub use recut::{RecutOrder, Recutting, Undone, preview, recut, undo};
pub use save::save;
pub use shop::{Shop, shop};
pub use short_list::short_list;
pub use start::{example_settings, start, start_chest, start_empty};
pub use tally::{Pile, Tallied, TallyLine, TallyTotal, tally};
pub use wish::{Asking, Change, Costs, Priced, WishOrder, Wished, wish};
pub use write::write_all;

/// A file to write: its path within the output folder, and its bytes.
pub type Output = (String, Vec<u8>);
