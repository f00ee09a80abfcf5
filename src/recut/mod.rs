//! A new plan after a board has let its maker down: what is cut stays, chalk stays where it can.
//!
//! The way of a recut:
//!
//! 1. `begun`: what the saw has done, from the last plan and what is marked since; `contradict`:
//!    what the files say now that can't be true of it.
//! 2. `stays`: which of the chalk still holds under every rule.
//! 3. `rest`: the wood left of every board in use, and `piece`: each such rest as a board that can
//!    be planned on.
//! 4. `reduce`: the job still to do, its boards the whole ones left and those pieces; what is cut
//!    or stays chalked is one front on a board of its own, so that its tone and breaks count.
//! 5. `merge`: the optimiser's answer back on the measured boards, beside what is there.
//! 6. `search`: chalk that stays against chalk that goes, by branch and bound; `score` says which of
//!    two plans is better.
//! 7. `changes`: what is different, front by front, and why.
//!
//! **What is best.** First as much as can be is made, by area. Then the cost of the whole plan
//! counts, and with it `[worth] moved` for every front whose chalk would have held and that lies
//! elsewhere now, and `tone_run` for every log or cut in which the board of a front made anew
//! differs from its nearest finished neighbour's. A front placed anew begins a stretch of its own,
//! even beside cut pieces of its run.

mod begun;
mod branch;
mod changes;
mod choose;
mod compare;
mod contradict;
mod copies;
mod cutoff;
mod kept;
mod merge;
mod numbers;
mod partner;
mod piece;
mod rack;
mod rack_csv;
mod reduce;
mod rest;
mod rules;
mod score;
mod search;
mod stays;
mod why;

pub use begun::{BegunFault, begun};
pub use changes::{Change, Kind, Partner, changes};
pub use choose::{Last, Recut, recut};
pub use contradict::begun_on;
pub use rack::{RackPiece, rack};
pub use rack_csv::{rack_csv, rack_sizes};
