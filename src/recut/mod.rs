//! A new plan after a board has let its maker down: what is cut stays, chalk stays where it can.
//!
//! The way of a recut:
//!
//! 1. `begun`: what the saw has done, from the last plan and what is marked since.
//! 2. `stays`: which of the chalk still holds under every rule.
//! 3. `rest`: the wood left of every board in use, as pieces that can be planned on.
//! 4. `reduce`: the job still to do, its boards the whole ones left and those pieces; what is cut
//!    or stays chalked is one front on a board of its own, so that its tone and breaks count.
//! 5. `merge`: the optimiser's answer back on the measured boards, beside what is there.
//! 6. `choose`: chalk that stays against chalk that moves, until no other choice can be better.
//! 7. `changes`: what is different, front by front, and why.

mod begun;
mod changes;
mod choose;
mod kept;
mod merge;
mod rack;
mod reduce;
mod rest;
mod stays;
#[cfg(test)]
mod tests;

pub use begun::{BegunFault, begun};
pub use changes::{Change, Kind, Partner, changes};
pub use choose::{Last, Recut, recut};
pub use rack::{RackPiece, rack, rack_csv};
