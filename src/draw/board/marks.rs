//! The marks along a board: what the maker chalks, from either end.

use std::collections::BTreeMap;

use super::band::Band;
use super::row::Label;
use super::view::View;
use crate::draw::font::{self, Weight};
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::DefectKind;
use crate::measure::{Length, Unit};

/// Height of a tape.
pub const TAPE: f64 = 10.0;
/// Size of the numbers on a tape.
const NUMBERS: f64 = 6.0;

/// Every distance from the hook end that is chalked: the ends of sections bold, those of blanks
/// and of the pieces they are flattened in regular.
pub fn along(view: &View) -> BTreeMap<Length, Weight> {
    let mut marks = BTreeMap::new();
    for (.., piece) in view.work().pieces() {
        let blanks = piece.blanks.iter().flat_map(|blank| [blank.from, blank.to]);
        for at in blanks.chain([piece.from, piece.to]) {
            marks.insert(at, Weight::Regular);
        }
    }
    for section in &view.cut.sections {
        marks.insert(section.from, Weight::Bold);
        marks.insert(section.to, Weight::Bold);
    }
    marks
}

/// The labels under a band: all marks, measured from the hook end.
pub fn from_hook(view: &View, band: &Band, edge: f64) -> Vec<Label> {
    along(view)
        .into_iter()
        .filter(|(at, _)| band.shows(*at))
        .map(|(at, weight)| Label {
            words: view.ruler.show(at),
            x: band.x(at),
            y: edge,
            weight,
        })
        .collect()
}

/// The labels above a band: section ends measured from the far end, and the defects' names.
pub fn above(view: &View, band: &Band, edge: f64) -> Vec<Label> {
    let crosscuts = along(view)
        .into_iter()
        .filter(|(at, weight)| band.shows(*at) && *weight == Weight::Bold)
        .map(|(at, weight)| Label {
            words: view.ruler.show(view.board.length - at),
            x: band.x(at),
            y: edge,
            weight,
        });
    let defects = view.board.defects.iter().filter_map(|defect| {
        let along = (defect.from, defect.to);
        let rect = band.rect(along, (defect.low, defect.high))?;
        let side = match defect.side {
            crate::job::DefectSide::Down => " (under)",
            _ => "",
        };
        Some(Label {
            words: format!("{}{side}", defect_name(defect.kind)),
            x: rect.centre().x,
            y: rect.top.max(band.y(view.board.width)) + 1.0,
            weight: Weight::Regular,
        })
    });
    crosscuts.chain(defects).collect()
}

/// A defect's name.
pub fn defect_name(kind: DefectKind) -> &'static str {
    match kind {
        DefectKind::Knot => "knot",
        DefectKind::Check => "check",
        DefectKind::Split => "split",
        DefectKind::Wane => "wane",
        DefectKind::Sap => "sap",
        DefectKind::Pith => "pith",
        DefectKind::Stain => "stain",
        DefectKind::Hole => "hole",
        DefectKind::Other => "defect",
    }
}

/// Draws a tape along the band from `top` down, counted from the hook end or the far one: a line
/// an inch (or 50 mm), longer ones at 6 and 12 in (or 100 and 500 mm), the longest numbered where
/// none of the leaders that `cross` the tape is in the way.
pub fn tape(
    drawing: &mut Drawing,
    view: &View,
    band: &Band,
    (top, from_far): (f64, bool),
    cross: &[Label],
) {
    let (left, right) = (band.x(band.from), band.x(band.to));
    let rect = Rect::new(left, top, right, top + TAPE);
    drawing.fill(rect, theme::TAPE);
    drawing.outline(rect.corners(), 0.5, theme::INK);
    let (step, half, whole) = match view.ruler.unit {
        Unit::Inch => (Length::from_inches(1.0), 6, 12),
        Unit::Mm => (Length::from_mm(50.0), 2, 10),
    };
    let count = view.board.length.nm() / step.nm();
    let mut numbers = Vec::new();
    for i in 0..=count {
        let at = if from_far {
            view.board.length - step * i
        } else {
            step * i
        };
        if !band.shows(at) {
            continue;
        }
        let share = if i % whole == 0 {
            0.85
        } else if i % half == 0 {
            0.55
        } else {
            0.3
        };
        // The lines stand on the board's edge.
        let board_edge = if from_far { rect.bottom } else { rect.top };
        let reach = if from_far { -share } else { share } * TAPE;
        let x = band.x(at);
        let foot = Point::new(x, board_edge);
        // A line by itself: one to and fro through all of them has no inside, and paints nothing.
        drawing.line(foot, Point::new(x, board_edge + reach), 0.35, theme::FAINT);
        if i % whole == 0 && i > 0 {
            numbers.push((x, view.ruler.show(step * i)));
        }
    }
    let base = if from_far {
        rect.top + NUMBERS * font::CAPITAL + 0.8
    } else {
        rect.bottom - 0.8
    };
    let to_next = step.inches() * half as f64 * band.scale;
    for (x, words) in numbers {
        let text = Text::new(words, x + 1.5, base, NUMBERS).ink(theme::FAINT);
        let extent = text.extent().inset(-0.5);
        let free = |label: &Label| label.x < extent.left || extent.right < label.x;
        if text.length() + 3.0 < to_next && extent.right < rect.right && cross.iter().all(free) {
            drawing.text(text);
        }
    }
}
