//! Ways from one part of the page to another: an index of the fronts, from a board to its fronts
//! and back, to the part before and after.

use maud::{Markup, html};

use crate::packet::document::{Document, FrontIndex, Part};

/// The part before which the index stands: the fitting sheet, else what follows the cutting list.
pub fn place(document: &Document) -> usize {
    let parts = &document.parts;
    if document.fronts.is_empty() {
        return parts.len();
    }
    let at = |id: &str| parts.iter().position(|part| part.id == id);
    let after = at("cutlist").map(|at| at + 1);
    at("fitting").or(after).unwrap_or(parts.len())
}

/// Every front, with links to its boards and to its place on the fitting sheet.
pub fn index(document: &Document) -> Markup {
    html! {
        section id="fronts" aria-labelledby="fronts-title" {
            a.up href="#overview" { "to the case" }
            h2 id="fronts-title" { "Fronts" }
            ul.index {
                @for (i, front) in document.fronts.iter().enumerate() {
                    li id={ "front-" (i + 1) } {
                        strong { (front.name) } " "
                        @for (id, board) in &front.boards {
                            @match id {
                                Some(id) => { a href={ "#" (id) } { "board " (board) } " " }
                                None => { span { "board " (board) } " " }
                            }
                        }
                        @if front.boards.is_empty() { span { "not made" } " " }
                        @if let Some(fitted) = front.fitted {
                            a href={ "#fit-" (fitted) } { "fitting" }
                        }
                    }
                }
            }
        }
    }
}

/// The fronts that are cut from a board.
pub fn fronts_of(document: &Document, part: &Part) -> Markup {
    let is_from = |front: &FrontIndex| {
        let mut boards = front.boards.iter();
        boards.any(|(id, _)| id.as_deref() == Some(part.id.as_str()))
    };
    html! {
        p.jump {
            "Fronts: "
            @for (i, front) in document.fronts.iter().enumerate() {
                @if is_from(front) { a href={ "#front-" (i + 1) } { (front.name) } " " }
            }
        }
    }
}

/// Links to the parts before and after one.
pub fn beside(document: &Document, index: usize) -> Markup {
    let parts = &document.parts;
    let before = index.checked_sub(1).map(|before| &parts[before]);
    html! {
        p.jump.beside {
            @if let Some(part) = before {
                a href={ "#" (part.id) } { "← " (part.title) } " "
            }
            @if let Some(part) = parts.get(index + 1) {
                a href={ "#" (part.id) } { (part.title) " →" }
            }
        }
    }
}
