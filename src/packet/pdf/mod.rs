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
use super::document::{Block, Document, OVERVIEW, Part};
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

/// The packet as sheets of `paper`: each board has a sheet of its own, what else is to be known goes
/// on where there is room. Where that takes fewer sheets, boards come last but for the cautions.
pub fn sheets(document: &Document, paper: Paper) -> Vec<Drawing> {
    let parts: Vec<Part> = document.parts.iter().map(on_paper).collect();
    let (boards, others): (Vec<&Part>, Vec<&Part>) = parts.iter().partition(|part| part.is_board());
    let overview = others.iter().position(|part| part.id == OVERVIEW);
    let (head, rest) = others.split_at(overview.map_or(0, |at| at + 1));
    let first: Vec<&Part> = head.iter().chain(&boards).copied().collect();
    let usual = lay_out(document, paper, &[&first, rest].concat());
    let (last, before) = rest
        .split_last()
        .map_or((None, rest), |(l, b)| (Some(*l), b));
    let last: Vec<&Part> = boards.iter().copied().chain(last).collect();
    let other = lay_out(document, paper, &[head, before, &last].concat());
    if other.len() < usual.len() {
        other
    } else {
        usual
    }
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
        block => block.clone(),
    });
    drawn.collect()
}

fn lay_out(document: &Document, paper: Paper, parts: &[&Part]) -> Vec<Drawing> {
    let mut flow = Flow::new(document, paper);
    for (i, part) in parts.iter().enumerate() {
        let goes_on = i > 0 && !part.is_board() && part.id != OVERVIEW;
        let style = match goes_on {
            true => style::GOES_ON,
            false => Style::of(document, paper, part),
        };
        blocks::add_part(&mut flow, part, style, goes_on);
    }
    flow.finish()
}

#[cfg(test)]
mod recut_tests;
#[cfg(test)]
mod tests;
