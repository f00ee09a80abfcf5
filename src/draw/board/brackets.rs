//! Brackets under a board: what stays joined until it is flat, and the sections.

use super::band::Band;
use super::label::blank_name;
use super::progress::Status;
use super::view::View;
use crate::draw::shape::{Point, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::plan::Blank;
use crate::work::Joined;

/// Height of a row of brackets.
const ROW: f64 = 17.0;

/// A bracket with its words.
struct Bracket {
    from: f64,
    to: f64,
    text: Text,
}

/// Rows of brackets that do not overlap.
pub struct Brackets(Vec<Vec<Bracket>>);

impl Brackets {
    /// The brackets that a band needs.
    pub fn of(view: &View, band: &Band) -> Brackets {
        let mut rows = Brackets(Vec::new());
        let work = view.work();
        for (.., piece) in work.pieces() {
            if piece.is_cut_apart() && !is_made(view, piece) {
                let words = format!("leave joined: {}", names(view, piece));
                rows.add(view, band, (piece.from, piece.to), words);
            }
        }
        if view.cut.sections.len() > 1 {
            for (i, section) in view.cut.sections.iter().enumerate() {
                let words = format!("section {}", i + 1);
                rows.add(view, band, (section.from, section.to), words);
            }
        }
        rows
    }

    fn add(
        &mut self,
        view: &View,
        band: &Band,
        along: (crate::measure::Length, crate::measure::Length),
        words: String,
    ) {
        let (from, to) = (along.0.max(band.from), along.1.min(band.to));
        if from >= to {
            return;
        }
        let (from, to) = (band.x(from), band.x(to));
        let said = |words: &str| Text::new(words, 0.0, 0.0, theme::SMALL).middle();
        // On a narrow sheet the names stand in the steps below.
        let text = match said(&words).length() + 8.0 <= view.width {
            true => said(&words),
            false => said("leave joined: see below"),
        };
        let half = text.length() / 2.0 + 4.0;
        let middle = ((from + to) / 2.0).clamp(half, (view.width - half).max(half));
        let bracket = Bracket {
            from,
            to,
            text: text.at(middle, 0.0),
        };
        let free = |row: &Vec<Bracket>| row.iter().all(|other| !other.meets(&bracket));
        match self.0.iter().position(free) {
            Some(row) => self.0[row].push(bracket),
            None => self.0.push(vec![bracket]),
        }
    }

    /// Height of all rows.
    pub fn height(&self) -> f64 {
        self.0.len() as f64 * ROW
    }

    /// Draws the rows from `top` down.
    pub fn draw(self, drawing: &mut Drawing, top: f64) {
        for (i, row) in self.0.into_iter().enumerate() {
            let y = top + i as f64 * ROW;
            for Bracket { from, to, text } in row {
                let points = [(from, y), (from, y + 4.0), (to, y + 4.0), (to, y)];
                let points = points.map(|(x, y)| Point::new(x, y));
                drawing.stroke(points, theme::THIN, theme::INK);
                let at = text.at.x;
                drawing.text_on(text.at(at, y + 12.0), theme::PAPER);
            }
        }
    }
}

impl Bracket {
    fn meets(&self, other: &Bracket) -> bool {
        let span = |bracket: &Bracket| {
            let half = bracket.text.length() / 2.0 + 3.0;
            let middle = bracket.text.at.x;
            (
                bracket.from.min(middle - half),
                bracket.to.max(middle + half),
            )
        };
        let (a, b) = (span(self), span(other));
        a.0 < b.1 + 2.0 && b.0 < a.1 + 2.0
    }
}

fn is_made(view: &View, piece: &Joined) -> bool {
    let made = |blank: &&Blank| view.status(blank) == Some(Status::MADE);
    piece.blanks.iter().any(made)
}

/// `A1 + A2 + A3`, `C1 with waste`.
fn names(view: &View, piece: &Joined) -> String {
    let names: Vec<String> = piece.blanks.iter().map(|b| blank_name(view, b)).collect();
    let waste = if piece.has_waste() { " with waste" } else { "" };
    format!("{}{waste}", names.join(" + "))
}
