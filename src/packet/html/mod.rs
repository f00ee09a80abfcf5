//! `packet.html`: one file that opens from disk, without network and without script.

mod blocks;
mod links;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::content::{Extras, document};
use super::document::{Block, Document, OVERVIEW};
use super::phrase::Phrase;
use crate::draw::font_rules;
use crate::job::Job;
use crate::measure::Unit;
use crate::plan::Plan;

const STYLE: &str = include_str!("packet.css");
const SCRIPT: &str = include_str!("packet.js");

/// A document as one HTML file.
pub fn document_html(document: &Document) -> String {
    let key = format!("grainrow-{:016x}", fingerprint(document));
    page(document, &key).into_string()
}

/// The packet as one HTML file.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn packet_html(job: &Job, plan: &Plan, extras: &Extras) -> String {
    document_html(&document(job, plan, extras))
}

fn page(document: &Document, key: &str) -> Markup {
    let unit = match document.ruler.unit {
        Unit::Inch => "inch",
        Unit::Mm => "mm",
    };
    let at_index = links::place(document);
    html! {
        (DOCTYPE)
        html lang="en" data-unit=(unit) data-key=(key) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (document.title) ": shop packet" }
                style { (PreEscaped(font_rules())) (PreEscaped(STYLE)) }
            }
            body {
                (header(document))
                main {
                    @for i in 0..document.parts.len() {
                        @if i == at_index { (links::index(document)) }
                        (part_markup(document, i))
                    }
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    }
}

fn header(document: &Document) -> Markup {
    html! {
        header {
            h1 { (document.title) }
            @if let Some(plan) = &document.plan { p.date { strong { (plan) } } }
            @if let Some(date) = &document.date { p.date { (date) } }
            @if let Some(notice) = &document.notice { p.notice { (notice) } }
            div.units hidden role="group" aria-label="Unit" {
                button type="button" data-set="inch" { "inches" }
                button type="button" data-set="mm" { "millimetres" }
            }
            nav aria-label="Parts" {
                ul {
                    @for (i, part) in document.parts.iter().enumerate() {
                        @if i == links::place(document) { li { a href="#fronts" { "Fronts" } } }
                        li { a href={ "#" (part.id) } { (part.title) } }
                    }
                }
            }
        }
    }
}

fn part_markup(document: &Document, index: usize) -> Markup {
    let part = &document.parts[index];
    html! {
        section id=(part.id) class=[(part.columns > 1).then_some("columns")]
            aria-labelledby={ (part.id) "-title" } {
            @if part.id != OVERVIEW && document.parts.len() > 1 { a.up href="#overview" { "to the case" } }
            h2 id={ (part.id) "-title" } { (part.title) }
            @if part.subtitle != Phrase::default() {
                p.facts { (blocks::phrase(document.ruler, &part.subtitle)) }
            }
            @if part.is_board() { (links::fronts_of(document, part)) }
            @for (i, block) in part.blocks.iter().enumerate() {
                (blocks::block(document.ruler, &part.id, i, block))
            }
            (links::beside(document, index))
        }
    }
}

/// A number that changes with what the packet says, so that ticks of another plan are not taken
/// for this one's. FNV-1a (Fowler, Noll and Vo), 64 bits.
fn fingerprint(document: &Document) -> u64 {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    let said = document.parts.iter().map(|part| words(&part.blocks));
    for byte in format!("{:?}", (&document.title, said.collect::<Vec<_>>())).bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    hash
}

/// All that is written, drawings left out.
fn words(blocks: &[Block]) -> Vec<&Block> {
    let said = blocks.iter().flat_map(|block| match block {
        Block::Picture(_) | Block::Photo(_) => Vec::new(),
        Block::Pair { left, right, .. } => [words(left), words(right)].concat(),
        Block::Either { paper, .. } => words(paper),
        Block::Columns(_, blocks) => words(blocks),
        Block::Beside(groups) => groups.iter().flat_map(|group| words(group)).collect(),
        block => vec![block],
    });
    said.collect()
}

#[cfg(test)]
mod tests;
