//! What the tests share. Each test crate uses a part of it.
#![allow(dead_code)]

pub mod brute;
pub mod instances;
pub mod reference;
pub mod stories;
pub mod tiny;
