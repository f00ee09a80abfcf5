//! What is written on a blank or a kept piece.

use super::band::Band;
use super::clear;
use super::view::{View, Way};
use crate::draw::font::{self, Weight};
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::job::Grain;
use crate::plan::{Blank, End, Face, Kept};

/// Pieces too small for their words: these bear a number and are explained under the board.
#[derive(Clone, Debug, Default)]
pub struct Key {
    /// What each number stands for; number 1 first.
    pub entries: Vec<String>,
}

impl Key {
    fn number(&mut self, words: String) -> String {
        let known = self.entries.iter().position(|entry| *entry == words);
        let index = known.unwrap_or_else(|| {
            self.entries.push(words);
            self.entries.len() - 1
        });
        format!("({})", index + 1)
    }
}

/// Writes on every blank and kept piece that `band` shows.
pub fn draw(drawing: &mut Drawing, view: &View, band: &Band, key: &mut Key) {
    for blank in view.blanks() {
        if let Some(rect) = band.rect((blank.from, blank.to), (blank.low, blank.high)) {
            label_blank(drawing, view, band, blank, rect, key);
        }
    }
    for kept in &view.cut.kept {
        if let Some(rect) = band.rect((kept.from, kept.to), (kept.low, kept.high)) {
            label_kept(drawing, view, band, kept, rect, key);
        }
    }
}

/// The name on a blank: the front's, and which stave of it.
pub fn blank_name(view: &View, blank: &Blank) -> String {
    let name = &view.front(blank).name;
    match blank.staves {
        0 | 1 => name.clone(),
        staves => format!("{name} stave {}/{staves}", blank.stave),
    }
}

fn label_blank(
    drawing: &mut Drawing,
    view: &View,
    band: &Band,
    blank: &Blank,
    rect: Rect,
    key: &mut Key,
) {
    let mut room = rect.inset(1.0);
    let left_end = match blank.left {
        End::Hook => blank.from,
        End::Far => blank.to,
    };
    if band.shows(left_end) {
        room = left_mark(drawing, view, blank, room);
    }
    let mut name = blank_name(view, blank);
    let wide = font::width(&name, theme::MARK, Weight::Bold) + 16.0;
    let room = clear::of_defects(view, band, room, wide);
    let arrow = arrow_box(view.top(blank), room);
    let lines = more_lines(view, blank);
    if blank.face == Face::Down && room.height() < 24.0 {
        name.push_str(" (face under)");
    }
    let words_room = room.width() - arrow.0 - 6.0;
    let most = (room.height() * 0.62).clamp(theme::LEAST, 11.0);
    match font::fit(&name, Weight::Bold, words_room, most, theme::LEAST) {
        Some(size) if size * 0.95 <= room.height() => {
            named(drawing, view, blank, room, (name, size), arrow, &lines);
        }
        _ => {
            let mut whole = name;
            if blank.face == Face::Down && !whole.ends_with(')') {
                whole.push_str(" (face under)");
            }
            if let Some(status) = view.status(blank) {
                whole = format!("{whole}, {}", status.word());
            }
            numbered(drawing, view, blank, room, key.number(whole));
        }
    }
}

/// The bar and letter at a blank's left end (bottom end when the grain is vertical). Gives the
/// room that is left.
fn left_mark(drawing: &mut Drawing, view: &View, blank: &Blank, room: Rect) -> Rect {
    let bar = 2.4;
    let letter = match view.front(blank).grain {
        Grain::Horizontal => "L",
        Grain::Vertical => "B",
    };
    let with_letter = room.width() > 46.0 && room.height() > 7.5;
    let used = if with_letter { bar + 8.0 } else { bar + 1.0 };
    let (bar, spot, rest) = match blank.left {
        End::Hook => (
            Rect::new(room.left, room.top, room.left + bar, room.bottom),
            room.left + bar + 4.0,
            Rect::new(room.left + used, room.top, room.right, room.bottom),
        ),
        End::Far => (
            Rect::new(room.right - bar, room.top, room.right, room.bottom),
            room.right - bar - 4.0,
            Rect::new(room.left, room.top, room.right - used, room.bottom),
        ),
    };
    drawing.fill(bar, theme::INK);
    if with_letter {
        let y = room.centre().y + 7.0 * 0.36;
        drawing.text_on(Text::new(letter, spot, y, 7.0).middle(), theme::PAPER);
    }
    rest
}

/// Width and height of the arrow to the front's top.
fn arrow_box(top: Way, room: Rect) -> (f64, f64) {
    let length = (room.height() * 0.6)
        .clamp(5.0, 13.0)
        .min(room.width() / 3.0);
    match top {
        Way::Up | Way::Down => (length * 0.55, length),
        Way::Left | Way::Right => (length, length * 0.55),
    }
}

/// What a blank says below its name when there is room.
fn more_lines(view: &View, blank: &Blank) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(status) = view.status(blank) {
        lines.push(status.word().to_owned());
    }
    if blank.face == Face::Down {
        lines.push("face under".to_owned());
    }
    lines.push(format!(
        "{} × {}",
        view.ruler.show(blank.to - blank.from),
        view.ruler.show(blank.high - blank.low)
    ));
    let (run, place) = view.job.place_of(blank.front);
    let run = &view.job.runs[run];
    if run.fronts.len() > 1 {
        lines.push(format!(
            "{}, {} of {}",
            run.name,
            place + 1,
            run.fronts.len()
        ));
    }
    lines
}

fn named(
    drawing: &mut Drawing,
    view: &View,
    blank: &Blank,
    room: Rect,
    (name, size): (String, f64),
    arrow: (f64, f64),
    lines: &[String],
) {
    let small = theme::NOTE;
    let step = small * 1.3;
    let fitting: Vec<&String> = lines
        .iter()
        .filter(|line| font::width(line, small, Weight::Regular) <= room.width() - 4.0)
        .collect();
    let head = size.max(arrow.1);
    let free = ((room.height() - head - 4.0) / step).floor().max(0.0) as usize;
    let lines = &fitting[..fitting.len().min(free)];
    let height = head + lines.len() as f64 * step;
    let centre = room.centre();
    let head_middle = centre.y - height / 2.0 + head / 2.0;
    let text = Text::new(name, 0.0, head_middle + size * 0.36, size).bold();
    let length = text.length();
    let left = centre.x - (length + 3.0 + arrow.0) / 2.0;
    drawing.text_on(
        Text {
            at: Point::new(left, text.at.y),
            ..text
        },
        theme::PAPER,
    );
    let arrow_left = left + length + 3.0;
    let spot = Rect::new(
        arrow_left,
        head_middle - arrow.1 / 2.0,
        arrow_left + arrow.0,
        head_middle + arrow.1 / 2.0,
    );
    drawing.fill(spot.inset(-0.8), theme::PAPER);
    draw_arrow(drawing, spot, view.top(blank));
    let mut above = spot.bottom.max(head_middle + size * 0.62);
    for (i, line) in lines.iter().enumerate() {
        let y = head_middle + head / 2.0 + step * (i as f64 + 0.85);
        let text = Text::new(line.as_str(), centre.x, y, small).middle();
        // Between two lines of words a slanted line would look like a stroke over the lower one.
        let extent = text.extent().inset(-0.8);
        let top = extent.top.min(above);
        drawing.fill(Rect { top, ..extent }, theme::PAPER);
        above = extent.bottom;
        drawing.text(text);
    }
}

/// A small piece: its number in the key, and the arrow if that fits beside it.
fn numbered(drawing: &mut Drawing, view: &View, blank: &Blank, room: Rect, number: String) {
    let size = theme::LEAST.max((room.height() * 0.6).min(8.0));
    let Some(size) = font::fit(&number, Weight::Bold, room.width() - 1.0, size, 4.5) else {
        return;
    };
    if size * 0.9 > room.height() {
        return;
    }
    let arrow = arrow_box(view.top(blank), room);
    let centre = room.centre();
    let length = font::width(&number, size, Weight::Bold);
    let beside = length + 2.0 + arrow.0 <= room.width();
    let left = centre.x - (length + if beside { 2.0 + arrow.0 } else { 0.0 }) / 2.0;
    let text = Text::new(number, left, centre.y + size * 0.36, size).bold();
    drawing.text_on(text, theme::PAPER);
    if beside {
        let from = left + length + 2.0;
        let spot = Rect::new(
            from,
            centre.y - arrow.1 / 2.0,
            from + arrow.0,
            centre.y + arrow.1 / 2.0,
        );
        drawing.fill(spot.inset(-0.5), theme::PAPER);
        draw_arrow(drawing, spot, view.top(blank));
    }
}

/// An arrow that fills `spot`.
pub fn draw_arrow(drawing: &mut Drawing, spot: Rect, way: Way) {
    // In the arrow's own square: (0.5, 1) is the tip, (0.5, 0) the tail.
    let on_sheet = |(across, along): (f64, f64)| match way {
        Way::Up => Point::new(
            spot.left + across * spot.width(),
            spot.bottom - along * spot.height(),
        ),
        Way::Down => Point::new(
            spot.left + across * spot.width(),
            spot.top + along * spot.height(),
        ),
        Way::Right => Point::new(
            spot.left + along * spot.width(),
            spot.top + across * spot.height(),
        ),
        Way::Left => Point::new(
            spot.right - along * spot.width(),
            spot.top + across * spot.height(),
        ),
    };
    let head = [(0.0, 0.5), (1.0, 0.5), (0.5, 1.0)].map(on_sheet);
    drawing.area(head, theme::INK);
    drawing.line(on_sheet((0.5, 0.0)), on_sheet((0.5, 0.55)), 1.3, theme::INK);
}

fn label_kept(
    drawing: &mut Drawing,
    view: &View,
    band: &Band,
    kept: &Kept,
    rect: Rect,
    key: &mut Key,
) {
    let size = format!(
        "{} × {}",
        view.ruler.show(kept.to - kept.from),
        view.ruler.show(kept.high - kept.low)
    );
    let words = format!("keep {size}");
    let wide = font::width(&words, theme::NOTE, Weight::Regular);
    let inside = rect.inset(2.5);
    let free = clear::of_leaders(view, band, inside);
    let room = if free.width() >= wide {
        free
    } else {
        clear::of_defects(view, band, inside, wide)
    };
    let centre = room.centre();
    let lying = (room.width(), room.height());
    let standing = (room.height(), room.width());
    for ((along, across), upward) in [(lying, false), (standing, true)] {
        let most = (across * 0.8).min(9.0);
        let Some(size) = font::fit(&words, Weight::Regular, along, most, theme::LEAST) else {
            continue;
        };
        let text = Text::new(words, centre.x, centre.y + size * 0.36, size).middle();
        let text = if upward {
            let at = Point::new(centre.x + size * 0.36, centre.y);
            Text { at, ..text }.upward()
        } else {
            text
        };
        drawing.text_on(text, theme::PAPER);
        return;
    }
    let number = key.number(words);
    let wanted = theme::LEAST.min(room.height());
    if let Some(size) = font::fit(&number, Weight::Regular, room.width(), wanted, 4.5) {
        let text = Text::new(number, centre.x, centre.y + size * 0.36, size).middle();
        drawing.text_on(text, theme::PAPER);
    }
}
