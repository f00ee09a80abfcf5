//! The title above a board and the notes below it.

use super::band::SIDE;
use super::label::{Key, blank_name};
use super::progress::Status;
use super::view::{View, thickness};
use crate::draw::font::{self, Weight};
use crate::draw::shape::{Point, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Cut;
use crate::plan::{Blank, Section};
use crate::work::Joined;

/// Writes the title: name, size, tone, board feet, yield. Gives the height used.
pub fn title(drawing: &mut Drawing, view: &View) -> f64 {
    let y = theme::MARGIN + theme::TITLE * 0.8;
    let room = theme::WIDTH - 2.0 * SIDE;
    let name = Text::new(format!("Board {}", view.name()), SIDE, y, theme::TITLE).bold();
    let facts = facts(view);
    let beside = name.length() + 12.0;
    let mut height = y + 6.0;
    let size = font::fit(&facts, Weight::Regular, room - beside, 9.5, 7.0);
    match size {
        Some(size) => drawing.text(Text::new(facts, SIDE + beside, y, size)),
        None => {
            for line in font::wrap(&facts, 8.0, Weight::Regular, room) {
                height += 10.0;
                drawing.text(Text::new(line, SIDE, height - 3.0, 8.0));
            }
        }
    }
    drawing.text(name);
    height
}

/// What is known of the board, in a line.
pub fn facts(view: &View) -> String {
    let board = view.board;
    let sawn = match board.cut {
        Some(Cut::Flat) => " · flat sawn",
        Some(Cut::Rift) => " · rift sawn",
        Some(Cut::Quarter) => " · quarter sawn",
        None => "",
    };
    format!(
        "{} × {} {} · {}{sawn} · tone {} · {} · yield {:.0} %",
        view.ruler.show(board.length),
        view.ruler.show(board.width),
        view.ruler.unit,
        thickness(board.thickness, view.ruler),
        board.tone.value(),
        view.job.volume_of(board).show(view.job.settings.unit),
        view.yield_share() * 100.0,
    )
}

/// The first mark of a section is its straight edge: the fence is set from there, never from the
/// raw edge.
const RIPS: &str = "Rip at, from the near edge; first the straight edge";

/// Writes the rip marks of every section, what stays joined, the final rips and the key of small
/// pieces, from `top` down. Gives where they end.
pub fn notes(drawing: &mut Drawing, view: &View, key: &Key, top: f64) -> f64 {
    let mut y = top;
    let work = view.work();
    let sections = work.sections.iter();
    let rips: Vec<String> = sections
        .map(|section| {
            format!(
                "section {}: {}",
                section.number,
                rip_marks(view, section.section)
            )
        })
        .collect();
    if !rips.is_empty() {
        y = flow(drawing, RIPS, &rips, y);
    }
    let pieces = work.pieces().map(|(.., piece)| piece);
    let joined: Vec<String> = pieces
        .filter(|piece| piece.is_cut_apart() && !is_made(view, piece))
        .map(|piece| left_joined(view, piece))
        .collect();
    if !joined.is_empty() {
        y = flow(drawing, "Leave joined until flat", &joined, y);
    }
    let finals = final_rips(view);
    if !finals.is_empty() {
        y = flow(drawing, "Final rips, from the near edge", &finals, y);
    }
    let small: Vec<String> = key
        .entries
        .iter()
        .enumerate()
        .map(|(i, words)| format!("({}) {words}", i + 1))
        .collect();
    if !small.is_empty() {
        y = flow(drawing, "Small pieces", &small, y);
    }
    y
}

/// The distances from the near edge at which a section is ripped, strip by strip.
fn rip_marks(view: &View, section: &Section) -> String {
    let strips = section.strips.iter();
    let strips: Vec<String> = strips
        .map(|s| format!("{} to {}", view.ruler.show(s.low), view.ruler.show(s.high)))
        .collect();
    strips.join(", ")
}

fn is_made(view: &View, piece: &Joined) -> bool {
    let made = |blank: &&Blank| view.status(blank) == Some(Status::MADE);
    piece.blanks.iter().any(made)
}

/// `A1 + A2 + A3`; where waste stays on, as far as that reaches: `C1 with waste, 2 to 14`.
fn left_joined(view: &View, piece: &Joined) -> String {
    let names = names(view, piece);
    if !piece.has_waste() {
        return names;
    }
    let (from, to) = (view.ruler.show(piece.from), view.ruler.show(piece.to));
    format!("{names} with waste, {from} to {to}")
}

/// Where pieces narrower than their strips are ripped from these.
fn final_rips(view: &View) -> Vec<String> {
    let work = view.work();
    let narrower = work.pieces().filter(|(_, strip, piece)| {
        let whole = (strip.strip.low, strip.strip.high);
        piece.across() != whole
    });
    let words = narrower.map(|(.., piece)| {
        let (low, high) = piece.across();
        let (low, high) = (view.ruler.show(low), view.ruler.show(high));
        format!("{}: {low} to {high}", names(view, piece))
    });
    words.collect()
}

/// `A1 + A2 + A3`.
fn names(view: &View, piece: &Joined) -> String {
    let names: Vec<String> = piece.blanks.iter().map(|b| blank_name(view, b)).collect();
    names.join(" + ")
}

/// A bold heading, then entries one after another, broken over lines.
fn flow(drawing: &mut Drawing, heading: &str, entries: &[String], top: f64) -> f64 {
    let size = theme::NOTE + 0.5;
    let step = size * 1.35;
    let heading = Text::new(heading, SIDE, top + size, size).bold();
    let (left, right) = (SIDE + heading.length() + 8.0, theme::WIDTH - SIDE);
    drawing.text(heading);
    let (mut x, mut y) = (left, top + size);
    for (i, entry) in entries.iter().enumerate() {
        let last = i + 1 == entries.len();
        let words = if last {
            entry.clone()
        } else {
            format!("{entry};")
        };
        for line in font::wrap(&words, size, Weight::Regular, right - left) {
            let text = Text::new(line, x, y, size);
            let text = if x > left && x + text.length() > right {
                (x, y) = (left, y + step);
                Text {
                    at: Point::new(x, y),
                    ..text
                }
            } else {
                text
            };
            x += text.length() + 8.0;
            drawing.text(text);
        }
    }
    y + step - size
}
