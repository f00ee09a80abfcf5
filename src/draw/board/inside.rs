//! Figures that stand inside the strips: rips at an end of their section, and the cuts of a strip
//! that lies between others.

use std::collections::BTreeMap;

use super::band::Band;
use super::marks::{Numbered, Spot, spot, wasted_before};
use super::row::{RING, ring};
use super::view::View;
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::measure::Length;
use crate::plan::Blank;
use crate::work::MarkKind;

/// Between a line and its figure.
const OFF: f64 = 2.0;
/// Kept free at a blank's end for the bar that marks its left one.
pub const BAR: f64 = 6.0;
/// Height of a figure.
const HIGH: f64 = 18.4;
/// What a blank's own words ask for beside figures.
const WORDS: f64 = 56.0;

/// What is taken of each blank's length by figures, by front and stave: from its end at the hook
/// side and from the other.
pub type Taken = BTreeMap<(usize, u32), (f64, f64)>;

/// A figure with its place.
struct Figure {
    number: usize,
    words: String,
    /// Middle of its left end.
    at: Point,
    upward: bool,
}

/// What is written inside the strips that a band shows.
pub struct Inside {
    figures: Vec<Figure>,
    /// What that takes from the blanks.
    pub taken: Taken,
}

impl Figure {
    fn extent(&self) -> Rect {
        let Point { x, y } = self.at;
        let (long, half) = (length(&self.words), HIGH / 2.0);
        match self.upward {
            false => Rect::new(x, y - half, x + long, y + half),
            true => Rect::new(x - half, y - long, x + half, y),
        }
    }
}

impl Inside {
    /// Finds the places; the band must lie on the sheet already.
    pub fn of(view: &View, band: &Band, marks: &[Numbered]) -> Inside {
        let mut inside = Inside {
            figures: Vec::new(),
            taken: Taken::new(),
        };
        for numbered in marks {
            let is_inside = numbered.mark.is_across() && spot(view, &numbered.mark) == Spot::Inside;
            if is_inside && band.shows(numbered.mark.along.0) {
                inside.across(view, band, numbered);
            }
        }
        for group in groups(view, marks) {
            inside.rips(view, band, &group);
        }
        inside
    }

    /// Writes the figures.
    pub fn draw(&self, drawing: &mut Drawing) {
        for figure in &self.figures {
            let Point { x, y } = figure.at;
            let half = theme::FIGURE * 0.365;
            let (centre, text) = match figure.upward {
                false => (
                    Point::new(x + RING, y),
                    Text::new(
                        figure.words.as_str(),
                        x + 2.0 * RING + 3.0,
                        y + half,
                        theme::FIGURE,
                    ),
                ),
                true => {
                    let text = Text::new(figure.words.as_str(), x + half, 0.0, theme::FIGURE);
                    let base = y - 2.0 * RING - 3.0;
                    (Point::new(x, y - RING), text.at(x + half, base).upward())
                }
            };
            drawing.text_on(text.bold(), theme::PAPER);
            ring(drawing, centre, figure.number);
        }
    }

    /// A cut of a strip between others: beside its line, on the side that is kept.
    fn across(&mut self, view: &View, band: &Band, numbered: &Numbered) {
        let mark = &numbered.mark;
        let words = numbered.figure(view);
        let x = band.x(mark.along.0);
        let (top, bottom) = (band.y(mark.across.1), band.y(mark.across.0));
        let after = wasted_before(view, mark);
        let mut own = view.blanks().filter(|b| {
            let end = if after { b.from } else { b.to };
            end == mark.along.0 && mark.across.0 <= b.low && b.high <= mark.across.1
        });
        let own = own.next();
        let rect = own.and_then(|b| band.rect((b.from, b.to), (b.low, b.high)));
        let whole = Rect::new(band.x(band.from), top, band.x(band.to), bottom);
        let room = rect.unwrap_or(whole);
        let long = length(&words);
        let left = |wide: f64| if after { x + BAR } else { x - BAR - wide };
        let standing = Point::new(left(HIGH) + HIGH / 2.0, bottom - 3.0);
        let lying = |y: f64| (Point::new(left(long), y), false);
        let places = [
            (standing, true),
            lying((top + bottom) / 2.0),
            lying(top + HIGH / 2.0 + 1.0),
            lying(bottom - HIGH / 2.0 - 1.0),
        ];
        let figures = places.map(|(at, upward)| Figure {
            number: numbered.number,
            words: words.clone(),
            at,
            upward,
        });
        let free = |figure: &Figure| {
            let extent = figure.extent();
            room.holds(&extent, 0.0) && self.is_free(&extent)
        };
        if let Some(figure) = figures.into_iter().find(free) {
            let wide = figure.extent().width();
            if let Some(blank) = own {
                let taken = self.taken.entry(key(blank)).or_default();
                let side = if after { &mut taken.0 } else { &mut taken.1 };
                *side += wide + OFF;
            }
            self.figures.push(figure);
        }
    }

    fn is_free(&self, extent: &Rect) -> bool {
        let mut others = self.figures.iter();
        others.all(|other| !other.extent().overlaps(extent, 0.0))
    }

    /// The numbers of the marks whose figures it holds.
    pub fn told(&self) -> impl Iterator<Item = usize> + '_ {
        self.figures.iter().map(|figure| figure.number)
    }

    /// The rips of a strip or a piece, beside one another's lines.
    fn rips(&mut self, view: &View, band: &Band, group: &Group) {
        let Some(rect) = band.rect(group.along, group.across) else {
            return;
        };
        let words: Vec<String> = group.marks.iter().map(|n| n.figure(view)).collect();
        let longs: Vec<f64> = words.iter().map(|words| length(words)).collect();
        let stacked = rect.height() >= 2.0 * HIGH + 1.0 || words.len() == 1;
        let wide = OFF
            + match stacked {
                true => longs.iter().copied().fold(0.0, f64::max),
                false => longs.iter().map(|long| long + OFF).sum(),
            };
        let Some(left) = self.room(view, band, group, rect, wide) else {
            return;
        };
        let mut x = left;
        for ((numbered, words), long) in group.marks.iter().zip(words).zip(longs) {
            let line = band.y(numbered.mark.across.0);
            let up = wasted_before(view, &numbered.mark);
            let y = match (stacked, up) {
                (false, _) => rect.centre().y,
                (true, true) => line - HIGH / 2.0,
                (true, false) => line + HIGH / 2.0,
            };
            let figure = Figure {
                number: numbered.number,
                words,
                at: Point::new(x, y),
                upward: false,
            };
            if self.is_free(&figure.extent()) {
                self.figures.push(figure);
            }
            if !stacked {
                x += long + OFF;
            }
        }
    }

    /// Where figures `wide` have room: in waste at the strip's ends, else on the first blank that
    /// has some to spare, else on the longest.
    fn room(
        &mut self,
        view: &View,
        band: &Band,
        group: &Group,
        rect: Rect,
        wide: f64,
    ) -> Option<f64> {
        let within = |b: &&Blank| {
            group.along.0 <= b.from
                && b.to <= group.along.1
                && b.low >= group.across.0
                && b.high <= group.across.1
        };
        let shown = |b: &Blank| band.rect((b.from, b.to), (b.low, b.high));
        let blanks = view.blanks().filter(within);
        let blanks: Vec<(&Blank, Rect)> = blanks.filter_map(|b| Some((b, shown(b)?))).collect();
        let mut from = rect.left;
        for (_, blank) in &blanks {
            if blank.left - from >= wide + BAR {
                return Some(from + 3.0);
            }
            from = blank.right;
        }
        if rect.right - from >= wide + BAR {
            return Some(from + 3.0);
        }
        let taken = |b: &Blank| self.taken.get(&key(b)).copied().unwrap_or_default();
        let free =
            |(b, rect): &(&Blank, Rect)| rect.width() - taken(b).0 - taken(b).1 - 2.0 * BAR - wide;
        let first = blanks.iter().find(|blank| free(blank) >= WORDS);
        let longest = || blanks.iter().max_by(|a, b| free(a).total_cmp(&free(b)));
        let (blank, rect) = first.or_else(longest)?;
        if free(&(*blank, *rect)) < 0.0 {
            return None;
        }
        let taken = self.taken.entry(key(blank)).or_default();
        let left = rect.left + BAR + taken.0;
        taken.0 += wide + OFF;
        Some(left)
    }
}

/// A front and which stave of it.
pub fn key(blank: &Blank) -> (usize, u32) {
    (blank.front, blank.stave)
}

/// Length of a figure with its number.
fn length(words: &str) -> f64 {
    2.0 * RING + 3.0 + Text::new(words, 0.0, 0.0, theme::FIGURE).bold().length()
}

/// Rips that are told at one place: those of a strip, or of a piece narrower than its strip.
struct Group<'a> {
    along: (Length, Length),
    across: (Length, Length),
    marks: Vec<&'a Numbered>,
}

fn groups<'a>(view: &View, marks: &'a [Numbered]) -> Vec<Group<'a>> {
    let mut groups = Vec::new();
    for section in &view.cut.sections {
        for strip in &section.strips {
            let within = |n: &&Numbered| {
                let at = n.mark.across.0;
                !n.mark.is_across()
                    && n.mark.along.0 >= section.from
                    && n.mark.along.1 <= section.to
                    && strip.low <= at
                    && at <= strip.high
            };
            let (finals, edges): (Vec<&Numbered>, Vec<&Numbered>) = marks
                .iter()
                .filter(within)
                .partition(|n| n.mark.kind == MarkKind::FinalRip);
            let across = (strip.low, strip.high);
            let mut add = |along, marks: Vec<&'a Numbered>| {
                if !marks.is_empty() {
                    groups.push(Group {
                        along,
                        across,
                        marks,
                    });
                }
            };
            add((section.from, section.to), edges);
            for piece in finals.chunk_by(|a, b| a.mark.along == b.mark.along) {
                add(piece[0].mark.along, piece.to_vec());
            }
        }
    }
    groups
}
