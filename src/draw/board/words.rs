//! The title above a board and the notes below it.

use super::band::{Band, SIDE};
use super::label::Key;
use super::marks::defect_words;
use super::view::{View, thickness};
use crate::draw::font::{self, Weight};
use crate::draw::fraction::in_line;
use crate::draw::shape::{Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Cut;

/// Writes the title: name, size, tone, board feet, yield. Gives the height used.
pub fn title(drawing: &mut Drawing, view: &View) -> f64 {
    let y = theme::MARGIN + theme::FIGURE * 0.8;
    let room = view.width - 2.0 * SIDE;
    let name = Text::new(format!("Board {}", view.name()), SIDE, y, theme::FIGURE).bold();
    let facts = facts(view);
    let beside = name.length() + 12.0;
    let mut height = y + 8.0;
    if font::width(&facts, theme::SMALL, Weight::Regular) <= room - beside {
        drawing.text(Text::new(facts, SIDE + beside, y, theme::SMALL));
    } else {
        for line in font::wrap(&facts, theme::SMALL, Weight::Regular, room) {
            height += 13.0;
            drawing.text(Text::new(line, SIDE, height - 4.0, theme::SMALL));
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

/// Writes the key of small pieces and what the figures are measured from. Gives where it
/// ends.
pub fn notes(drawing: &mut Drawing, key: &Key, ratio: f64) -> f64 {
    let entries = key.entries.iter().enumerate();
    let small: Vec<String> = entries
        .map(|(i, words)| format!("({}) {words}", i + 1))
        .collect();
    let mut lines = Vec::new();
    if !small.is_empty() {
        lines.push(format!("Small: {}", small.join("; ")));
    }
    let size = (ratio * 10.0).round() / 10.0;
    let widths = match size == 1.0 {
        true => String::new(),
        false => format!(" Widths drawn {size} times as large."),
    };
    let from = "Bold: from the hook end and from the near edge. In parentheses: from the far end. \
                Ringed: number of the mark.";
    lines.push(format!("{from}{widths}"));
    let mut y = 0.0;
    for line in lines.iter().map(|line| in_line(line)) {
        for line in font::wrap(
            &line,
            theme::SMALL,
            Weight::Regular,
            drawing.width - 2.0 * SIDE,
        ) {
            y += 13.0;
            drawing.text(Text::new(line, SIDE, y - 3.0, theme::SMALL));
        }
    }
    y
}

/// Names the defects that no leader reaches, on themselves or beside; in the key where there is no
/// room.
pub fn enclosed(drawing: &mut Drawing, view: &View, band: &Band, key: &mut Key) {
    for (defect, rect) in super::marks::enclosed(view, band) {
        let words = defect_words(defect);
        let text = Text::new(words.as_str(), 0.0, 0.0, theme::SMALL).middle();
        let (centre, half) = (rect.centre(), text.length() / 2.0 + 1.0);
        // A band of a narrow drawing may be shorter than the words.
        let low = band.x(band.from) + half;
        let x = centre.x.clamp(low, (band.x(band.to) - half).max(low));
        let bases = [
            centre.y + theme::SMALL * 0.365,
            rect.top - 3.0,
            rect.bottom + theme::SMALL,
        ];
        let places = bases
            .into_iter()
            .flat_map(|y| [(x, y), (rect.right + half + 2.0, y)]);
        let body = Rect::new(0.0, band.y(view.board.width), view.width, band.near);
        let texts: Vec<Text> = places.map(|(x, y)| text.clone().at(x, y)).collect();
        let end = match view.width < theme::WIDTH {
            true => band.x(band.to),
            false => view.width - SIDE,
        };
        let free = |text: &&Text| {
            let extent = text.extent().inset(-1.0);
            body.holds(&extent, 0.0)
                && extent.right < end
                && drawing
                    .texts()
                    .all(|other| !extent.overlaps(&other.extent(), 0.0))
        };
        match texts.iter().find(free).cloned() {
            Some(text) => drawing.text_on(text, theme::PAPER),
            None => {
                let at = view.ruler.show(defect.from);
                key.note(format!("{words}, hatched at {at}"));
            }
        }
    }
}
