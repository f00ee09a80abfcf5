//! How a board is laid on the sheet: to one scale, a long one in several bands.

use super::view::View;
use crate::draw::shape::{Point, Rect};
use crate::draw::theme;
use crate::measure::Length;

/// Free on both sides of a band, for the words at its ends.
pub const SIDE: f64 = 20.0;
/// Length of board that still shares a sheet's width legibly, in inches.
const LONGEST_BAND: f64 = 132.0;
/// The same where every blank is so long, in points, that its words have room.
const LONGEST_ROOMY_BAND: f64 = 170.0;
const ROOMY: f64 = 38.0;
/// No board is drawn larger than this, in points for each inch.
const LARGEST_SCALE: f64 = 30.0;

/// A length of the board, drawn to scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Where it starts on the board.
    pub from: Length,
    /// Where it ends on the board.
    pub to: Length,
    /// Points for each inch.
    pub scale: f64,
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
        self.near - across.inches() * self.scale
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

/// The bands of a board, in order from the hook end, not yet placed on the sheet.
pub fn bands(view: &View) -> Vec<Band> {
    let length = view.board.length;
    let room = theme::WIDTH - 2.0 * SIDE;
    let roomy = |count: f64| {
        let scale = room * count / length.inches();
        view.blanks()
            .all(|b| (b.to - b.from).inches() * scale >= ROOMY)
    };
    let fewest = (length.inches() / LONGEST_ROOMY_BAND).ceil().max(1.0);
    let count = match roomy(fewest) {
        true => fewest as i64,
        false => (length.inches() / LONGEST_BAND).ceil().max(1.0) as i64,
    };
    let mut ends: Vec<Length> = (0..=count).map(|i| length * i / count).collect();
    for end in &mut ends[1..count as usize] {
        *end = quiet_spot(view, *end, length / (count * 6));
    }
    let longest = ends
        .windows(2)
        .map(|w| (w[1] - w[0]).inches())
        .fold(0.0, f64::max);
    let height = match count {
        1 => 230.0,
        2 => 112.0,
        n => 200.0 / n as f64,
    };
    let scale = (room / longest)
        .min(height / view.board.width.inches())
        .min(LARGEST_SCALE);
    ends.windows(2)
        .map(|w| Band {
            from: w[0],
            to: w[1],
            scale,
            near: 0.0,
        })
        .collect()
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
