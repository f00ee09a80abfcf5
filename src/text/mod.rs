//! Text from outside, made safe for where it goes: a terminal, a spreadsheet, a page.
//!
//! Names, notes and titles are the maker's and stay as typed in the job. What writes them out asks
//! here how.

mod cell;
mod marks;

pub use cell::{csv_bytes, from_cell, to_cell};
pub use marks::{escaped_in_json, printable, shortened, shown};
