//! Decides which rough board makes which drawer or door front.
#![warn(missing_docs)]
#![forbid(unsafe_code)]

pub mod commands;
pub mod draw;
pub mod fit;
pub mod job;
pub mod layout;
pub mod measure;
pub mod milling;
pub mod packet;
pub mod plan;
pub mod wood;
