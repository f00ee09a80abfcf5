//! Blocks of the document as HTML.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{Markup, PreEscaped, html};

use crate::draw::{SLASH, belongs_together, stacked};
use crate::measure::{Ruler, Unit};
use crate::packet::document::{Block, Picture, Table};
use crate::packet::phrase::{Phrase, Piece, both};

/// One block; `part` and `index` name its steps.
pub fn block(ruler: Ruler, part: &str, index: usize, content: &Block) -> Markup {
    match content {
        Block::Heading(words) => html! { h3 { (words) } },
        Block::Text(words) => html! { p { (phrase(ruler, words)) } },
        Block::Picture(both) => picture(both),
        Block::Photo(photo) => html! {
            details.photo {
                summary { (photo.about) }
                img alt=(photo.about) src={ "data:image/jpeg;base64," (STANDARD.encode(&photo.jpeg)) };
            }
        },
        Block::Figures(figures) => html! {
            dl.figures {
                @for (name, value) in figures {
                    div { dt { (name) } dd { (phrase(ruler, value)) } }
                }
            }
        },
        Block::Lines(lines) => html! {
            dl.lines {
                @for (name, words) in lines {
                    div { dt { (name) } dd { (phrase(ruler, words)) } }
                }
            }
        },
        Block::Table(table) => table_markup(ruler, table),
        Block::Steps(steps) => html! {
            ol.steps {
                @for (i, step) in steps.iter().enumerate() {
                    @let id = format!("{part}-{index}-{i}");
                    li { label {
                        input type="checkbox" id=(id);
                        span { (phrase(ruler, step)) }
                    } }
                }
            }
        },
        Block::Pair { left, right, share } => html! {
            div.pair.slim[*share < 0.5].broad[*share > 0.7] {
                div { @for (i, b) in left.iter().enumerate() { (block(ruler, part, index * 100 + i, b)) } }
                div { @for (i, b) in right.iter().enumerate() { (block(ruler, part, index * 100 + 50 + i, b)) } }
            }
        },
        Block::Beside(groups) => html! {
            div.many {
                @for (i, group) in groups.iter().enumerate() { div {
                    @for (j, b) in group.iter().enumerate() {
                        (block(ruler, part, (index + i + 1) * 100 + j, b))
                    }
                } }
            }
        },
        Block::Columns(_, blocks) => html! {
            div.columns {
                @for (i, b) in blocks.iter().enumerate() {
                    (block(ruler, part, (index + 1) * 1000 + i, b))
                }
            }
        },
        Block::Either { paper, screen } => html! {
            div.tables {
                @for (i, b) in paper.iter().enumerate() {
                    (block(ruler, part, (index + 1) * 1000 + i, b))
                }
            }
            (cards(ruler, (part, index), screen))
        },
        Block::Caution { title, words } => html! {
            div.caution { h3 { (title) } p { (phrase(ruler, words)) } }
        },
    }
}

/// Cards, each under an id that the index of fronts leads to.
fn cards(ruler: Ruler, (part, index): (&str, usize), blocks: &[Block]) -> Markup {
    let is_card = |block: &Block| matches!(block, Block::Pair { .. });
    let number = |at: usize| blocks[..=at].iter().filter(|block| is_card(block)).count();
    html! {
        div.cards {
            @for (i, b) in blocks.iter().enumerate() {
                @if is_card(b) { a.place id={ "fit-" (number(i)) } {} }
                (block(ruler, part, (index + 1) * 1000 + 500 + i, b))
            }
        }
    }
}

/// Lengths in both units; the style sheet shows one of them.
pub fn phrase(ruler: Ruler, phrase: &Phrase) -> Markup {
    let [inch, mm] = both(ruler);
    html! {
        @for piece in &phrase.0 {
            @match piece {
                Piece::Words(words) => { (words) }
                Piece::Either { inch, mm } => {
                    span.inch { (figures(&unbroken(inch))) }
                    span.mm { (figures(&unbroken(mm))) }
                }
                _ => {
                    span.inch { (figures(&piece.show(inch))) }
                    span.mm { (figures(&piece.show(mm))) }
                }
            }
        }
    }
}

/// Words with their fractions stacked: to be copied as `3/8`.
fn figures(words: &str) -> Markup {
    let words = stacked(words);
    let mut pieces = words.split(SLASH);
    let digit = |c: char| c.is_ascii_digit();
    let first = pieces.next().unwrap_or_default();
    let split = first.trim_end_matches(digit).len();
    let (mut before, mut top) = first.split_at(split);
    let mut parts = Vec::new();
    for piece in pieces {
        let end = piece.find(|c| !digit(c)).unwrap_or(piece.len());
        let (bottom, rest) = piece.split_at(end);
        parts.push((before, top, bottom));
        (before, top) = rest.split_at(rest.trim_end_matches(digit).len());
    }
    html! {
        @for (before, top, bottom) in &parts {
            (before) span.f { (top) span.o { "/" } span.u { (bottom) } }
        }
        (before) (top)
    }
}

/// Words in which no line ends between a number and its fraction or its unit.
fn unbroken(words: &str) -> String {
    let mut text = String::with_capacity(words.len());
    for word in words.split(' ') {
        if !text.is_empty() {
            text.push(if belongs_together(&text, word) {
                '\u{a0}'
            } else {
                ' '
            });
        }
        text.push_str(word);
    }
    text
}

/// Both drawings in a frame that scrolls along the board and can be reached by keyboard.
fn picture(picture: &Picture) -> Markup {
    let wide = |drawing: &crate::draw::Drawing, class: &str| {
        html! {
            div class={ "picture " (class) } tabindex="0" role="group"
                aria-label={ (drawing.title) " (drawing)" } {
                (PreEscaped(drawing.svg_element().replace('\n', "")))
            }
        }
    };
    if let Some([inch, mm]) = &picture.narrow {
        return html! {
            (wide(&picture.inch, "inch broadly")) (wide(&picture.mm, "mm broadly"))
            (wide(inch, "inch narrowly")) (wide(mm, "mm narrowly"))
        };
    }
    if picture.inch == picture.mm {
        return wide(&picture.inch, "either");
    }
    html! { (wide(&picture.inch, "inch")) (wide(&picture.mm, "mm")) }
}

fn table_markup(ruler: Ruler, table: &Table) -> Markup {
    let class = match (table.large, table.bench) {
        (true, _) => "large",
        (_, true) => "plain bench",
        _ => "plain",
    };
    let cell = |column: usize| table.columns[column].figures.then_some("number");
    html! {
        div.scroll tabindex="0" role="group" aria-label=(table.caption) {
            table class=(class) {
                caption class=[(!has_lengths(table)).then_some("aside")] {
                    (table.caption) @if has_lengths(table) { (unit_note(ruler)) }
                }
                @if table.is_headed() {
                    thead { (groups_markup(table)) tr {
                        @for (i, column) in table.columns.iter().enumerate() {
                            th scope="col" class=[cell(i)] { (column.head) }
                        }
                    } }
                }
                tbody {
                    @for row in &table.rows { tr {
                        @for (i, words) in row.iter().enumerate() {
                            @if i == 0 && !table.is_headed() {
                                th scope="row" { (phrase(ruler, words)) }
                            } @else {
                                td class=[cell(i)] { (phrase(ruler, words)) }
                            }
                        }
                    } }
                }
            }
        }
    }
}

/// What columns beside one another have in common, above their heads.
fn groups_markup(table: &Table) -> Markup {
    let columns = &table.columns;
    let groups: Vec<_> = columns.chunk_by(|a, b| a.group == b.group).collect();
    html! {
        @if columns.iter().any(|column| !column.group.is_empty()) {
            tr.groups {
                @for group in groups {
                    @if group[0].group.is_empty() {
                        td colspan=(group.len()) {}
                    } @else {
                        th scope="colgroup" colspan=(group.len()) { (group[0].group) }
                    }
                }
            }
        }
    }
}

fn has_lengths(table: &Table) -> bool {
    let pieces = table.rows.iter().flatten().flat_map(|cell| &cell.0);
    pieces
        .into_iter()
        .any(|piece| !matches!(piece, Piece::Words(_)))
}

/// Says the unit, and that the unit the job was not planned in is rounded.
fn unit_note(ruler: Ruler) -> Markup {
    let (inch, mm) = match ruler.unit {
        Unit::Inch => ("inches".to_owned(), "millimetres, rounded from inches"),
        Unit::Mm => (
            format!("inches, rounded to 1/{}", ruler.fraction),
            "millimetres",
        ),
    };
    html! { span.inch { " (" (inch) ")" } span.mm { " (" (mm) ")" } }
}
