//! Pictures of boards: straightened, evened, measured. It knows no plan.
//!
//! ```text
//! a file's bytes
//!   |  picture: upright, in sRGB, without metadata
//!   |  outline: corners looked for; plane: from straight above
//!   |  light: what white paper tells; join: parts made one
//!   v
//! a face --- tone, grain, defects, edge: what it tells
//!   |  pile: all boards of a job, figures and proof sheet
//!   v
//! photos.json, proof.html, one picture a face
//! ```
//!
//! Places on a board are in inches whatever the job's unit; `pile` turns what it tells into that.

pub mod colour;
pub mod defects;
pub mod edge;
pub mod face;
pub mod grain;
pub mod join;
pub mod light;
pub mod outline;
pub mod picture;
pub mod pile;
pub mod plane;
pub mod tone;
