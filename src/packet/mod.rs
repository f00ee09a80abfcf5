//! What is handed to the shop. Everything here gives bytes or plain data; the caller writes.

mod cutlist;
mod joints;
mod marks;
mod table;
#[cfg(test)]
mod tests;

pub use cutlist::cutlist_csv;
pub use joints::{Joint, joints};
pub use marks::{Mark, MarkKind, marks, marks_csv};
