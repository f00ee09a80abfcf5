//! How a board is laid on the sheet: lengths to one scale, widths to another, a long board in
//! halves that overlap.

use super::view::View;
use crate::draw::shape::{Point, Rect};
use crate::measure::Length;

/// Free on both sides of a band, for the words at its ends.
pub const SIDE: f64 = 20.0;
/// No board is drawn longer than this, in points for each inch.
const LARGEST_SCALE: f64 = 40.0;
/// What halves have in common, as a share of one.
const OVERLAP: f64 = 0.04;
/// A board is parted into no more bands than this.
const MOST: i64 = 6;

/// A length of the board, drawn to scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Where it starts on the board.
    pub from: Length,
    /// Where it ends on the board.
    pub to: Length,
    /// Points for each inch along the board.
    pub scale: f64,
    /// Points for each inch across it.
    pub tall: f64,
    /// Where the near edge lies on the sheet.
    pub near: f64,
}

impl Band {
    /// Where a distance from the hook end lies on the sheet, whether in the band or not.
    pub fn x(&self, along: Length) -> f64 {
        SIDE + (along - self.from).inches() * self.scale
    }

    /// Where a distance from the near edge lies on the sheet.
    pub fn y(&self, across: Length) -> f64 {
        self.near - across.inches() * self.tall
    }

    /// The part of a piece of the board that this band shows.
    pub fn rect(&self, along: (Length, Length), across: (Length, Length)) -> Option<Rect> {
        let (from, to) = (along.0.max(self.from), along.1.min(self.to));
        (from < to).then(|| Rect::new(self.x(from), self.y(across.1), self.x(to), self.y(across.0)))
    }

    /// Whether a distance from the hook end is in the band.
    pub fn shows(&self, along: Length) -> bool {
        self.from <= along && along <= self.to
    }

    /// The part of a line that this band shows.
    pub fn clip(&self, a: Point, b: Point) -> Option<(Point, Point)> {
        let (low, high) = (self.x(self.from), self.x(self.to));
        let at = |x: f64| Point::new(x, a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x));
        let moved = |p: Point| {
            if (low..=high).contains(&p.x) {
                p
            } else {
                at(p.x.clamp(low, high))
            }
        };
        let outside = a.x.max(b.x) < low || a.x.min(b.x) > high;
        (!outside).then(|| (moved(a), moved(b)))
    }
}

/// The bands of a board, in order from the hook end, not yet placed on the sheet: as few as show
/// all that is written (`crowded` tells how much of it has no room).
pub fn bands(view: &View, crowded: impl Fn(&[Band]) -> usize) -> Vec<Band> {
    let mut best = parted(view, 1);
    let mut least = crowded(&best);
    for count in 2..=MOST {
        if least == 0 {
            break;
        }
        let bands = parted(view, count);
        let lost = crowded(&bands);
        if lost < least {
            (best, least) = (bands, lost);
        }
    }
    best
}

/// The bands of a board on a narrow sheet: one a section, or as many as each needs for its words.
pub fn by_section(view: &View, crowded: impl Fn(&[Band]) -> usize) -> Vec<Band> {
    let sections = view.cut.sections.iter();
    let mut ends: Vec<Length> = sections.map(|section| section.to).collect();
    ends.pop();
    ends.insert(0, Length::ZERO);
    ends.push(view.board.length);
    let mut spans = Vec::new();
    for pair in ends.windows(2) {
        let whole = (pair[0], pair[1]);
        let parts = (1..=MOST).map(|count| spans_of(view, whole, count));
        let lost = |spans: &Vec<(Length, Length)>| crowded(&to_scale(view, spans));
        let fewest = parts.min_by_key(lost);
        spans.extend(fewest.into_iter().flatten());
    }
    to_scale(view, &spans)
}

fn parted(view: &View, count: i64) -> Vec<Band> {
    to_scale(
        view,
        &spans_of(view, (Length::ZERO, view.board.length), count),
    )
}

/// A length of the board in so many spans that overlap.
fn spans_of(view: &View, (low, high): (Length, Length), count: i64) -> Vec<(Length, Length)> {
    let length = high - low;
    let mut ends: Vec<Length> = (0..=count).map(|i| low + length * i / count).collect();
    for end in &mut ends[1..count as usize] {
        *end = quiet_spot(view, *end, length / (count * 6));
    }
    let common = Length::from_nm((length.nm() as f64 / count as f64 * OVERLAP) as i64);
    let wider = |pair: &[Length]| {
        let (from, to) = (pair[0] - common, pair[1] + common);
        (from.max(Length::ZERO), to.min(view.board.length))
    };
    ends.windows(2).map(wider).collect()
}

/// Spans drawn to one scale, the longest over the whole sheet.
fn to_scale(view: &View, spans: &[(Length, Length)]) -> Vec<Band> {
    let longest = spans
        .iter()
        .map(|(from, to)| (*to - *from).inches())
        .fold(0.0, f64::max);
    let room = view.width - 2.0 * SIDE;
    let scale = (room / longest).min(LARGEST_SCALE);
    let band = |&(from, to): &(Length, Length)| Band {
        from,
        to,
        scale,
        tall: scale,
        near: 0.0,
    };
    spans.iter().map(band).collect()
}

/// A spot near `wish` where no blank is cut in two, if one is no farther than `reach`.
fn quiet_spot(view: &View, wish: Length, reach: Length) -> Length {
    let free = |at: Length| view.blanks().all(|b| at <= b.from || b.to <= at);
    let far = |at: Length| (at - wish).nm().abs();
    view.blanks()
        .flat_map(|b| [b.from, b.to])
        .chain([wish])
        .filter(|&at| far(at) <= reach.nm() && free(at))
        .min_by_key(|&at| far(at))
        .unwrap_or(wish)
}
