//! What the tests share. Each test crate uses a part of it.
#![allow(dead_code)]

pub mod brute;
pub mod instances;
pub mod reference;
pub mod stories;
pub mod shop_jobs;
pub mod tiny;
pub mod walk;
