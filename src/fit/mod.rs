//! From measured openings to finished fronts: quadrilaterals, gaps, seasons, wedges, bevels,
//! arches and pulls.
//!
//! Inside this room geometry is plain floating point in millimetres (a drawer front's rounding
//! error is then far below a nanometre); [`Length`](crate::measure::Length) stands at its doors.

mod arc;
mod bevel;
mod caution;
mod fitted;
mod least_squares;
mod one;
mod opening;
mod out;
mod outline;
mod over;
mod point;
mod pulls;
mod quad;
mod reveal;
mod season;
mod sheet;
mod suspect;
mod trouble;
mod watch;
mod wedge;
mod work;

pub use arc::{Arc, Ordinate, radius_of};
pub use bevel::{Bevel, Flat};
pub use caution::{Caution, Said};
pub use fitted::{Fitted, FittedArch, FittedBevel, FittedOpening};
pub use opening::{Assumed, Impossible, NoQuad, Solved, solve};
pub use out::{CAUTIONS, ORDER_OF_WORK, csv, everywhere, head, lines, text, to_json};
pub use outline::Outline;
pub use point::Point;
pub use pulls::{Hole, PullMarks};
pub use quad::Quad;
pub use reveal::Reveal;
pub use season::{Movement, Season, Seasons};
pub use sheet::{Sheet, fit, fitted_job, with_fitted_sizes};
pub use suspect::{Drawn, Suspect};
pub use trouble::FitTrouble;
pub use wedge::{ToFence, Wedge, wedges};
