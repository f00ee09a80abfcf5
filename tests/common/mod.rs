//! What the tests share. Each test program uses a part of it.
#![allow(dead_code)]

pub mod brute;
pub mod generate;
pub mod instances;
pub mod mutate;
pub mod reference;
pub mod shop;
pub mod shop_jobs;
pub mod side_by_side;
pub mod sled;
pub mod stories;
pub mod tiny;
pub mod walk;
