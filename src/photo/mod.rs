//! Pictures of boards.
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
