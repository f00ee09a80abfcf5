//! The board itself: waste, sections, strips, blanks, kept pieces and defects.

use super::band::Band;
use super::clear;
use super::progress::Status;
use super::view::View;
use crate::draw::hatch::hatch_line;
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::{Defect, DefectSide};
use crate::measure::Length;
use crate::plan::Blank;
use crate::work::Joined;

/// Length of the dashes of a cut that is made once a piece is flat.
pub const JOINED_DASH: f64 = 2.2;

/// Draws the part of the board that `band` shows, without any words.
pub fn draw(drawing: &mut Drawing, view: &View, band: &Band) {
    let whole = (Length::ZERO, view.board.width);
    if let Some(rect) = band.rect((band.from, band.to), whole) {
        drawing.fill(rect, theme::WASTE);
        edges(drawing, view, band, rect);
    }
    for kept in &view.cut.kept {
        if let Some(rect) = band.rect((kept.from, kept.to), (kept.low, kept.high)) {
            drawing.fill(rect, theme::PAPER);
            drawing.dashed_outline(rect.inset(0.8), 4.0, theme::THIN, theme::INK);
        }
    }
    for (.., joined) in view.work().pieces() {
        waste_left_on(drawing, band, joined);
        for blank in &joined.blanks {
            piece(drawing, band, joined, blank);
            if let Some(status) = view.status(blank) {
                told_apart(drawing, band, blank, status);
            }
        }
    }
    for piece in view.progress.into_iter().flat_map(|p| p.lost(view.cut)) {
        lost(drawing, view, band, &piece.blank);
    }
    rips(drawing, view, band);
    crosscuts(drawing, view, band);
    for defect in &view.board.defects {
        hatched(drawing, band, defect);
    }
}

/// The board's outline, with a ragged line where the board goes on in another band.
fn edges(drawing: &mut Drawing, view: &View, band: &Band, rect: Rect) {
    let [a, b, c, d] = rect.corners();
    drawing.line(a, b, theme::THICK, theme::INK);
    drawing.line(c, d, theme::THICK, theme::INK);
    for (from, to, along) in [(a, d, band.from), (b, c, band.to)] {
        if along == Length::ZERO || along == view.board.length {
            drawing.line(from, to, theme::THICK, theme::INK);
        } else {
            drawing.stroke(ragged(from, to), theme::THIN, theme::INK);
        }
    }
}

fn ragged(from: Point, to: Point) -> Vec<Point> {
    let steps = ((to.y - from.y) / 6.0).ceil().max(2.0) as usize;
    (0..=steps)
        .map(|i| {
            let side = [0.0, 2.5, 0.0, -2.5][i % 4];
            let share = i as f64 / steps as f64;
            Point::new(from.x + side, from.y + (to.y - from.y) * share)
        })
        .collect()
}

/// A blank's paper and outline; an end in another band stays open, one that stays joined until the
/// piece is flat is dashed.
fn piece(drawing: &mut Drawing, band: &Band, joined: &Joined, blank: &Blank) {
    let Some(rect) = band.rect((blank.from, blank.to), (blank.low, blank.high)) else {
        return;
    };
    drawing.fill(rect, theme::PAPER);
    let [a, b, c, d] = rect.corners();
    drawing.line(a, b, theme::THIN, theme::INK);
    drawing.line(d, c, theme::THIN, theme::INK);
    let ends = [(blank.from, joined.from, a, d), (blank.to, joined.to, b, c)];
    for (at, end_of_piece, top, bottom) in ends {
        if !band.shows(at) {
            continue;
        }
        if at == end_of_piece {
            drawing.line(top, bottom, theme::THIN, theme::INK);
        } else {
            drawing.dashes(top, bottom, JOINED_DASH, theme::THIN, theme::INK);
        }
    }
}

/// The end of waste that goes with its blanks through the machines.
fn waste_left_on(drawing: &mut Drawing, band: &Band, joined: &Joined) {
    let Some(rect) = band.rect((joined.from, joined.to), joined.across()) else {
        return;
    };
    let [a, b, c, d] = rect.corners();
    for (at, top, bottom) in [(joined.from, a, d), (joined.to, b, c)] {
        if joined.has_waste() && band.shows(at) {
            drawing.line(top, bottom, theme::THIN, theme::INK);
        }
    }
}

/// Ticks what is cut; gives what is new a second outline.
fn told_apart(drawing: &mut Drawing, band: &Band, blank: &Blank, status: Status) {
    let Some(rect) = band.rect((blank.from, blank.to), (blank.low, blank.high)) else {
        return;
    };
    match status {
        Status::Gone(_) => {
            let side = (rect.height() * 0.4).min(16.0).min(rect.width() * 0.4);
            let right = rect.right - 8.0;
            tick(
                drawing,
                Rect::new(right - side, rect.top + 3.0, right, rect.top + 3.0 + side),
            );
        }
        Status::New => drawing.outline(rect.inset(2.2).corners(), theme::THIN, theme::INK),
        Status::Stays => {}
    }
}

/// A blank that was spoiled: crossed out on waste, with a word to say so where there is room.
fn lost(drawing: &mut Drawing, view: &View, band: &Band, blank: &Blank) {
    let Some(rect) = band.rect((blank.from, blank.to), (blank.low, blank.high)) else {
        return;
    };
    drawing.outline(rect.corners(), theme::THIN, theme::INK);
    crossed(drawing, rect);
    let room = clear::of_leaders(view, band, rect);
    let centre = room.centre();
    let text = Text::new(
        "lost",
        centre.x,
        centre.y + theme::SMALL * 0.365,
        theme::SMALL,
    )
    .middle();
    if text.length() + 2.0 <= room.width() && room.height() >= theme::SMALL {
        drawing.text_on(text, theme::PAPER);
    }
}

/// A tick that fills `spot`.
pub fn tick(drawing: &mut Drawing, spot: Rect) {
    let points = [(0.0, 0.55), (0.35, 0.95), (1.0, 0.05)];
    let points =
        points.map(|(x, y)| Point::new(spot.left + x * spot.width(), spot.top + y * spot.height()));
    drawing.stroke(points, theme::THICK, theme::INK);
}

fn crossed(drawing: &mut Drawing, rect: Rect) {
    let [a, b, c, d] = rect.corners();
    drawing.line(a, c, theme::THIN, theme::INK);
    drawing.line(b, d, theme::THIN, theme::INK);
}

/// The edges of strips, over the whole length of their section.
fn rips(drawing: &mut Drawing, view: &View, band: &Band) {
    for section in &view.cut.sections {
        for across in section.strips.iter().flat_map(|s| [s.low, s.high]) {
            if let Some(rect) = band.rect((section.from, section.to), (across, across)) {
                let [from, to, ..] = rect.corners();
                drawing.line(from, to, theme::THIN, theme::INK);
            }
        }
    }
}

/// The ends of sections, over the whole width of the board.
fn crosscuts(drawing: &mut Drawing, view: &View, band: &Band) {
    for along in view.cut.sections.iter().flat_map(|s| [s.from, s.to]) {
        if band.shows(along) {
            let x = band.x(along);
            let from = Point::new(x, band.y(Length::ZERO));
            let to = Point::new(x, band.y(view.board.width));
            drawing.line(from, to, theme::THICK, theme::INK);
        }
    }
}

/// A defect: hatched; in a dashed outline when it does not show on the side seen.
fn hatched(drawing: &mut Drawing, band: &Band, defect: &Defect) {
    let along = (defect.from, defect.to);
    let Some(rect) = band.rect(along, (defect.low, defect.high)) else {
        return;
    };
    drawing.stroke(hatch_line(rect, 3.2), theme::THIN, theme::INK);
    if defect.side == DefectSide::Down {
        drawing.dashed_outline(rect, 2.0, theme::THIN, theme::INK);
    } else {
        drawing.outline(rect.corners(), theme::THIN, theme::INK);
    }
}
