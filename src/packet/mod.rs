//! What is handed to the shop. Everything here gives bytes or plain data; the caller writes.

mod content;
mod cutlist;
mod document;
mod faces;
mod html;
mod joined;
mod joints;
mod labels;
mod marks;
mod order;
mod pdf;
mod phrase;
mod pieces;
mod shopping;
mod stock;
mod table;
#[cfg(test)]
mod tests;
mod todo;
mod ways;

pub use crate::work::{Mark, MarkKind};
pub use content::{Extras, Photos, Replaces, document, estimate_part};
pub use cutlist::cutlist_csv;
pub use document::{Block, Column, Document, Part, Picture, Table};
pub use html::packet_html;
pub use joints::{Joint, joints};
pub use labels::{label_sheets, labels_pdf};
pub use marks::{marks, marks_csv};
pub use order::{Phase, phases};
pub use pdf::{Paper, packet_pdf, sheets, sheets_to_pdf};
pub use phrase::{Phrase, Piece};
pub use shopping::{ToBuy, shopping_list, to_buy};
pub use ways::{ways_document, ways_pages};
