//! `packet.pdf`: the packet laid out for paper.
//!
//! The document is first laid out into sheets, which are drawings; a small writer on top of the
//! pdf-writer crate turns sheets into a file, the program's font inside.

mod blocks;
mod flow;
mod fonts;
mod marks;
mod paper;
mod style;
mod table;
mod write;

pub use paper::Paper;
pub use write::sheets_to_pdf;

use super::content::{Extras, document};
use super::document::Document;
use crate::draw::Drawing;
use crate::job::Job;
use crate::plan::Plan;
use flow::Flow;
use style::Style;

/// The packet as a PDF file: letter sheets when the job is in inches, A4 when in millimetres,
/// lying on their side.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn packet_pdf(job: &Job, plan: &Plan, extras: &Extras) -> Vec<u8> {
    let document = document(job, plan, extras);
    let paper = Paper::of_unit(document.ruler.unit).lying();
    sheets_to_pdf(&sheets(&document, paper), &document.title)
}

/// The packet as sheets of `paper`.
pub fn sheets(document: &Document, paper: Paper) -> Vec<Drawing> {
    let mut flow = Flow::new(document, paper);
    for part in &document.parts {
        let style = Style::of(document, paper, part);
        blocks::add_part(&mut flow, part, style);
    }
    flow.finish()
}

#[cfg(test)]
mod tests;
