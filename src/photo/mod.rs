//! Pictures of boards.
pub mod colour;
pub mod defects;
pub mod grain;
pub mod join;
pub mod light;
pub mod outline;
pub mod picture;
pub mod plane;
pub mod tone;
