//! `packet.pdf`: the packet laid out for paper.
//!
//! The document is first laid out into sheets, which are drawings; a small writer on top of the
//! pdf-writer crate turns sheets into a file, the program's font inside.

mod arrange;
mod blocks;
mod flow;
mod fonts;
mod marks;
mod paper;
mod steps;
mod style;
mod table;
mod write;

pub use paper::Paper;
pub use write::sheets_to_pdf;

use super::content::{Extras, document};
use super::document::{Block, Document, Part};
use crate::draw::Drawing;
use crate::job::Job;
use crate::plan::Plan;

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

/// The packet as sheets of `paper`: each board begins a sheet, unless the rest of the one before has
/// room for it; what else is to be known goes on where there is room.
pub fn sheets(document: &Document, paper: Paper) -> Vec<Drawing> {
    let parts: Vec<Part> = document.parts.iter().map(on_paper).collect();
    arrange::fewest(document, paper, &parts)
}

/// A part without its photographs: paper has the drawings.
fn on_paper(part: &Part) -> Part {
    Part {
        blocks: drawn(&part.blocks),
        ..part.clone()
    }
}

fn drawn(blocks: &[Block]) -> Vec<Block> {
    let kept = blocks.iter().filter(|b| !matches!(b, Block::Photo(_)));
    let drawn = kept.map(|block| match block {
        Block::Pair { left, right, share } => Block::Pair {
            left: drawn(left),
            right: drawn(right),
            share: *share,
        },
        Block::Either { paper, .. } => Block::Either {
            paper: drawn(paper),
            screen: Vec::new(),
        },
        block => block.clone(),
    });
    drawn.collect()
}

#[cfg(test)]
mod recut_tests;
#[cfg(test)]
mod tests;
