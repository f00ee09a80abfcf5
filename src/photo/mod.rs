//! Pictures of boards.
pub mod colour;
pub mod light;
pub mod outline;
pub mod picture;
pub mod plane;
