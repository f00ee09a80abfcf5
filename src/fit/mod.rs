//! From measured openings to finished fronts: quadrilaterals, gaps, seasons, wedges, bevels,
//! arches and pulls.
//!
//! Inside this room geometry is plain floating point in millimetres (a drawer front's rounding
//! error is then far below a nanometre); [`Length`](crate::measure::Length) stands at its doors.

mod arc;
mod bevel;
mod caution;
mod crown;
mod fitted;
mod idle;
mod least_squares;
mod one;
mod opening;
mod out;
mod outline;
mod over;
mod piece;
mod placed;
mod plain;
mod point;
mod pulls;
mod quad;
mod reveal;
mod sawing;
mod season;
mod sheet;
mod suspect;
mod trouble;
mod under_arch;
mod watch;
mod wedge;
mod work;

pub use arc::{Arc, Ordinate, radius_of};
pub use bevel::{Bevel, Flat};
pub use caution::{Caution, Said};
pub use fitted::{Fitted, FittedArch, FittedBevel, FittedOpening};
pub use idle::{Idle, idle};
pub use opening::{Assumed, Impossible, NoQuad, Solved, solve};
pub use out::{
    CAUTIONS, ORDER_OF_WORK, WEDGES, csv, edge_list, everywhere, head, lines, remarks, sizes, text,
    to_json,
};
pub use outline::Outline;
pub use point::Point;
pub use pulls::{Hole, PullMarks};
pub use quad::Quad;
pub use reveal::Reveal;
pub use sawing::Sawing;
pub use season::{Movement, Season, Seasons};
pub use sheet::{Sheet, fit, fit_planned, fitted_job, with_fitted_sizes};
pub use suspect::{Drawn, Suspect};
pub use trouble::FitTrouble;
pub use wedge::{HeldBy, ToFence, Wedge, square_within, wedges};
