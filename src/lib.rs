//! Decides which rough board makes which drawer or door front, so that grain runs on from one
//! to the next and little is wasted.
//!
//! # The way of one front
//!
//! ```text
//! fronts.csv, boards.csv, defects.csv, openings.csv, photos.csv, job.toml
//!   │  job: reads and checks them; every fault with file, line and column
//!   ▼
//! Job ── fit: an opening becomes a finished size
//!   │  milling: the rough blank it takes, what is left after flattening
//!   │  layout: which strip of which board, with which neighbours; a proven bound
//!   ▼
//! Plan
//!   │  plan::check: every rule and figure again, sharing nothing with layout
//!   ▼
//! packet, draw: marks, cut list, diagrams, elevation, as bytes
//!   │  commands: written all at once, or not at all
//!   ▼
//! out/
//! ```
//!
//! # Rooms, each standing on those below it
//!
//! | room | what is in it |
//! |---|---|
//! | [`page`] | the page in the browser: a small server over the same commands |
//! | [`commands`] | one call a command: read, plan, check, write |
//! | [`packet`] | what is handed to the shop |
//! | [`draw`] | diagrams, elevation, charts |
//! | [`work`] | the order in which a board is cut, and what stays joined until it is flat |
//! | [`recut`] | a new plan around what is cut, made or spoiled |
//! | [`estimate`] | random piles, trials, how much to buy |
//! | [`ways`] | plans to choose from: wood against breaks against tone |
//! | [`layout`] | the optimiser |
//! | [`plan`] | the plan as data, its file, its independent checker |
//! | [`milling`] | allowances, flattening, staves |
//! | [`photo`] | pictures of boards: straightened, evened, measured; knows no plan |
//! | [`fit`] | openings, gaps, wedges, bevels, arches, pulls |
//! | [`job`] | reading and checking a job |
//! | [`wood`] | species, moisture, movement |
//! | [`text`] | text from outside, made safe for a terminal, a spreadsheet, a page |
//! | [`measure`] | exact lengths, fractions, board feet, tones |
//!
//! # Example
//!
//! ```
//! use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, JobFiles};
//! use grainrow::layout::{self, Request, Silent};
//! use grainrow::plan::{Limits, check};
//!
//! let job = JobFiles::new()
//!     .with(JOB_TOML, "title = \"Two drawers\"")
//!     .with(BOARDS_CSV, "board,length,width,thickness,tone\nB1,5',7 1/2,4/4,medium\n")
//!     .with(FRONTS_CSV, "front,width,height,thickness,run\nleft,18,5,3/4,a\nright,18,5,3/4,a\n")
//!     .parse()?
//!     .job;
//! let plan = layout::plan(&job, &Request::default(), &Silent);
//! assert_eq!(check(&job, &plan, false, &Limits::default()), Ok(()));
//! assert_eq!((plan.totals.made, plan.totals.breaks), (2, 0));
//! # Ok::<(), grainrow::job::Faults>(())
//! ```
#![warn(missing_docs)]
#![forbid(unsafe_code)]

/// The version of this library and of the program.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

// What the tests share with those outside names the library as they do.
#[cfg(test)]
extern crate self as grainrow;

pub mod commands;
pub mod draw;
pub mod estimate;
pub mod fit;
pub mod job;
pub mod layout;
pub mod measure;
pub mod milling;
pub mod packet;
pub mod page;
pub mod photo;
pub mod plan;
pub mod recut;
pub mod text;
pub mod ways;
pub mod wood;
pub mod work;
