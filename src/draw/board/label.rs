//! What is written on a blank or a kept piece.

use super::band::Band;
use super::clear;
use super::inside::{BAR, Taken, key};
use super::view::{View, Way};
use crate::draw::font::{self, Weight};
use crate::draw::fraction::stacked;
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

/// The three sizes of type.
const SIZES: [f64; 3] = [theme::FIGURE, theme::WORD, theme::SMALL];
/// The arrow to a front's top when it points along the sheet; turned when it points across.
const ARROW: (f64, f64) = (9.0, 15.0);
/// Between a name and its arrow.
const BETWEEN: f64 = 4.0;
/// Height of a line below the name, and of one with a fraction in it.
const LINE: (f64, f64) = (13.0, 20.5);

impl Key {
    /// Adds words that no piece bears the number of.
    pub fn note(&mut self, words: String) {
        let _ = self.number(words);
    }

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
pub fn draw(drawing: &mut Drawing, view: &View, band: &Band, key: &mut Key, taken: &Taken) {
    for blank in view.blanks() {
        if let Some(rect) = band.rect((blank.from, blank.to), (blank.low, blank.high)) {
            label_blank(drawing, view, band, (blank, rect), key, taken);
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
    crate::work::piece_name(&view.front(blank).name, blank)
}

fn label_blank(
    drawing: &mut Drawing,
    view: &View,
    band: &Band,
    (blank, rect): (&Blank, Rect),
    numbers: &mut Key,
    taken: &Taken,
) {
    let mut room = rect.inset(1.5);
    if band.shows(left_end(blank)) {
        left_bar(drawing, blank, rect);
    }
    let (hook, far) = taken.get(&key(blank)).copied().unwrap_or_default();
    (room.left, room.right) = (room.left + BAR + hook, room.right - BAR - far);
    if band.shows(left_end(blank)) {
        room = letter(drawing, view, blank, room);
    }
    let words = Words::of(view, blank);
    let wide = font::width(&words.name, theme::SMALL, Weight::Bold) + ARROW.0 + BETWEEN;
    let room = clear::of_defects(view, band, room, wide);
    let top = view.top(blank);
    if words.lying(drawing, room, top) || words.standing(drawing, room, top) {
        return;
    }
    // The other band that shows it has more room for its name.
    let shown = band.shows(blank.from) && band.shows(blank.to);
    if !shown && rect.width() < (blank.to - blank.from).inches() * band.scale / 2.0 {
        return;
    }
    let number = numbers.number(words.whole());
    let few = Words {
        name: number,
        lines: Vec::new(),
        must: Vec::new(),
    };
    let _ = few.lying(drawing, room, top)
        || few.standing(drawing, room, top)
        || few.bare(drawing, room);
}

fn left_end(blank: &Blank) -> crate::measure::Length {
    match blank.left {
        End::Hook => blank.from,
        End::Far => blank.to,
    }
}

/// The bar at a blank's left end (its bottom end when the grain is vertical).
fn left_bar(drawing: &mut Drawing, blank: &Blank, rect: Rect) {
    let (wide, inner) = (3.2, rect.inset(1.5));
    let bar = match blank.left {
        End::Hook => Rect {
            right: inner.left + wide,
            ..inner
        },
        End::Far => Rect {
            left: inner.right - wide,
            ..inner
        },
    };
    if bar.left > rect.left && bar.right < rect.right {
        drawing.fill(bar, theme::INK);
    }
}

/// The letter of the left end. Gives the room that is left.
fn letter(drawing: &mut Drawing, view: &View, blank: &Blank, room: Rect) -> Rect {
    let letter = match view.front(blank).grain {
        Grain::Horizontal => "L",
        Grain::Vertical => "B",
    };
    if room.width() < 60.0 || room.height() < 14.0 {
        return room;
    }
    let used = 11.0;
    let (spot, rest) = match blank.left {
        End::Hook => (
            room.left + 4.0,
            Rect {
                left: room.left + used,
                ..room
            },
        ),
        End::Far => (
            room.right - 4.0,
            Rect {
                right: room.right - used,
                ..room
            },
        ),
    };
    let y = room.centre().y + theme::SMALL * 0.365;
    let text = Text::new(letter, spot, y, theme::SMALL).bold().middle();
    let extent = text.extent();
    if drawing
        .texts()
        .any(|other| other.extent().overlaps(&extent, 0.0))
    {
        return room;
    }
    drawing.text_on(text, theme::PAPER);
    rest
}

/// All that is written on a blank.
struct Words {
    name: String,
    /// What must be said, below the name or in it.
    must: Vec<String>,
    /// What is said when there is room.
    lines: Vec<String>,
}

impl Words {
    fn of(view: &View, blank: &Blank) -> Words {
        let status = view.status(blank).map(|status| status.word().to_owned());
        let under = (blank.face == Face::Down).then(|| "face under".to_owned());
        let rough = [blank.to - blank.from, blank.high - blank.low];
        let [long, wide] = rough.map(|length| view.ruler.show(length));
        let mut lines = vec![stacked(&format!("{long} × {wide}"))];
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
        Words {
            name: blank_name(view, blank),
            must: status.into_iter().chain(under).collect(),
            lines,
        }
    }

    /// All in a line, for the key.
    fn whole(&self) -> String {
        let must = self.must.iter().map(|words| format!(", {words}"));
        std::iter::once(self.name.clone()).chain(must).collect()
    }

    /// Writes along the sheet, if the name has room.
    fn lying(&self, drawing: &mut Drawing, room: Rect, top: Way) -> bool {
        let arrow = arrow_box(top);
        let high = |size: f64| size.max(arrow.1) + 1.5;
        let needs = self.must.len() as f64 * LINE.0;
        let fit = |size: &f64| {
            let long = font::width(&self.name, *size, Weight::Bold) + BETWEEN + arrow.0;
            let must = self.must.iter().map(|words| line(words).length());
            let long = must.fold(long, f64::max);
            long <= room.width() && high(*size) + needs <= room.height()
        };
        let Some(size) = SIZES.into_iter().find(fit) else {
            return false;
        };
        let mut lines: Vec<Text> = self.must.iter().map(|words| line(words)).collect();
        let mut height = high(size) + needs;
        for text in self.lines.iter().map(|words| line(words)) {
            let more = if text.has_fraction() { LINE.1 } else { LINE.0 };
            if text.length() <= room.width() && height + more <= room.height() {
                height += more;
                lines.push(text);
            }
        }
        let centre = room.centre();
        let middle = centre.y - height / 2.0 + high(size) / 2.0;
        self.head(drawing, Point::new(centre.x, middle), size, top);
        let mut y = middle + high(size) / 2.0;
        for text in lines {
            let extent = text.extent();
            let more = if text.has_fraction() { LINE.1 } else { LINE.0 };
            let base = y + (more - extent.height()) / 2.0 - extent.top;
            drawing.text_on(text.middle().at(centre.x, base), theme::PAPER);
            y += more;
        }
        true
    }

    /// The name and the arrow, side by side around a point.
    fn head(&self, drawing: &mut Drawing, at: Point, size: f64, top: Way) {
        let arrow = arrow_box(top);
        let text = Text::new(self.name.as_str(), 0.0, at.y + size * 0.365, size).bold();
        let length = text.length();
        let left = at.x - (length + BETWEEN + arrow.0) / 2.0;
        let base = text.at.y;
        drawing.text_on(text.at(left, base), theme::PAPER);
        let from = left + length + BETWEEN;
        let spot = Rect::new(
            from,
            at.y - arrow.1 / 2.0,
            from + arrow.0,
            at.y + arrow.1 / 2.0,
        );
        drawing.fill(spot.inset(-1.0), theme::PAPER);
        draw_arrow(drawing, spot, top);
    }

    /// Writes across the sheet, if that has room.
    fn standing(&self, drawing: &mut Drawing, room: Rect, top: Way) -> bool {
        let whole = self.whole();
        let arrow = arrow_box(top);
        let fit = |size: &f64| {
            let long = font::width(&whole, *size, Weight::Bold) + BETWEEN + arrow.1;
            long <= room.height() && size.max(arrow.0) <= room.width()
        };
        let Some(size) = SIZES.into_iter().find(fit) else {
            return false;
        };
        let centre = room.centre();
        let text = Text::new(whole, centre.x + size * 0.365, 0.0, size).bold();
        let length = text.length();
        let bottom = centre.y + (length + BETWEEN + arrow.1) / 2.0;
        let x = text.at.x;
        drawing.text_on(text.at(x, bottom).upward(), theme::PAPER);
        let low = bottom - length - BETWEEN;
        let half = arrow.0 / 2.0;
        let spot = Rect::new(centre.x - half, low - arrow.1, centre.x + half, low);
        drawing.fill(spot.inset(-1.0), theme::PAPER);
        draw_arrow(drawing, spot, top);
        true
    }

    /// The name alone, in the smallest type.
    fn bare(&self, drawing: &mut Drawing, room: Rect) -> bool {
        let centre = room.centre();
        let half = theme::SMALL * 0.365;
        let text = Text::new(self.name.as_str(), centre.x, centre.y + half, theme::SMALL).middle();
        let fits = text.length() <= room.width() && theme::SMALL * 0.8 <= room.height();
        if fits {
            drawing.text_on(text, theme::PAPER);
        }
        fits
    }
}

/// A line below a name; with a fraction in it a little larger, so that its digits are not small.
fn line(words: &str) -> Text {
    let text = Text::new(words, 0.0, 0.0, theme::SMALL);
    let size = if text.has_fraction() {
        theme::WORD
    } else {
        theme::SMALL
    };
    Text { size, ..text }
}

/// Width and height of the arrow to the front's top.
fn arrow_box(top: Way) -> (f64, f64) {
    match top {
        Way::Up | Way::Down => ARROW,
        Way::Left | Way::Right => (ARROW.1, ARROW.0),
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
    let (tail, neck) = (on_sheet((0.5, 0.0)), on_sheet((0.5, 0.55)));
    drawing.line(tail, neck, theme::THICK, theme::INK);
}

fn label_kept(
    drawing: &mut Drawing,
    view: &View,
    band: &Band,
    kept: &Kept,
    rect: Rect,
    numbers: &mut Key,
) {
    let size = [kept.to - kept.from, kept.high - kept.low].map(|length| view.ruler.show(length));
    let words = stacked(&format!("keep {} × {}", size[0], size[1]));
    let text = line(&words);
    let inside = rect.inset(2.5);
    let free = clear::of_leaders(view, band, inside);
    let room = match free.width() >= text.length() {
        true => free,
        false => clear::of_defects(view, band, inside, text.length()),
    };
    let centre = room.centre();
    let (long, high) = (text.length(), text.extent().height());
    let half = text.size * 0.365;
    if long <= room.width() && high <= room.height() {
        drawing.text_on(text.middle().at(centre.x, centre.y + half), theme::PAPER);
    } else if long <= room.height() && high <= room.width() {
        let text = text.middle().at(centre.x + half, centre.y).upward();
        drawing.text_on(text, theme::PAPER);
    } else {
        let few = Words {
            name: numbers.number(words),
            must: Vec::new(),
            lines: Vec::new(),
        };
        few.bare(drawing, room);
    }
}
