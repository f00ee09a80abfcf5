//! What a drawing is made of: areas, strokes and texts as plain data, in points.

use super::font::{self, Weight};
use super::fraction;

/// A spot on the sheet: points (1/72 in) from the left and from the top.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

/// An upright rectangle on the sheet, in points.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

/// A colour: red, green, blue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink(pub u8, pub u8, pub u8);

/// Which point of a text its position names.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// Where it begins.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Where it ends.
    End,
}

/// One line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// What it says.
    pub words: String,
    /// Position of the anchor, on the base line.
    pub at: Point,
    /// Height of the em, in points.
    pub size: f64,
    /// Regular or bold.
    pub weight: Weight,
    /// Which point of the text stands at `at`.
    pub anchor: Anchor,
    /// Turned a quarter to the left, so that it reads upwards.
    pub upward: bool,
    /// Colour.
    pub ink: Ink,
}

/// One thing on a drawing. Later shapes cover earlier ones.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A filled polygon.
    Area {
        /// Its corners.
        points: Vec<Point>,
        /// Its colour.
        fill: Ink,
    },
    /// An open line through points.
    Stroke {
        /// The points it runs through.
        points: Vec<Point>,
        /// How thick it is, in points.
        width: f64,
        /// Its colour.
        ink: Ink,
    },
    /// A line of text.
    Text(Text),
}

impl Point {
    /// The point `x` to the right and `y` down.
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }
}

impl Rect {
    /// From its four edges.
    pub const fn new(left: f64, top: f64, right: f64, bottom: f64) -> Rect {
        Rect {
            left,
            top,
            right,
            bottom,
        }
    }

    /// Left to right.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Top to bottom.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// The middle.
    pub fn centre(&self) -> Point {
        Point::new(
            (self.left + self.right) / 2.0,
            (self.top + self.bottom) / 2.0,
        )
    }

    /// Smaller by `by` on every side (larger when negative).
    pub fn inset(&self, by: f64) -> Rect {
        Rect::new(
            self.left + by,
            self.top + by,
            self.right - by,
            self.bottom - by,
        )
    }

    /// The same, farther right and down by what `by` has.
    pub fn shifted(&self, by: Point) -> Rect {
        Rect::new(
            self.left + by.x,
            self.top + by.y,
            self.right + by.x,
            self.bottom + by.y,
        )
    }

    /// The four corners, from the upper left on.
    pub fn corners(&self) -> [Point; 4] {
        [
            Point::new(self.left, self.top),
            Point::new(self.right, self.top),
            Point::new(self.right, self.bottom),
            Point::new(self.left, self.bottom),
        ]
    }

    /// Whether the two share more than `slack` points of width and of height.
    pub fn overlaps(&self, other: &Rect, slack: f64) -> bool {
        self.left + slack < other.right
            && other.left + slack < self.right
            && self.top + slack < other.bottom
            && other.top + slack < self.bottom
    }

    /// The smallest one that holds all points.
    pub fn around(points: &[Point]) -> Rect {
        let (low, high) = (f64::INFINITY, f64::NEG_INFINITY);
        let none = Rect::new(low, low, high, high);
        points.iter().fold(none, |rect, point| {
            Rect::new(
                rect.left.min(point.x),
                rect.top.min(point.y),
                rect.right.max(point.x),
                rect.bottom.max(point.y),
            )
        })
    }

    /// Whether a straight line runs through it. The line is cut off at each side in turn (Liang
    /// and Barsky, ACM Transactions on Graphics 3, 1984, p. 1).
    pub fn is_crossed(&self, from: Point, to: Point) -> bool {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let sides = [
            (-dx, from.x - self.left),
            (dx, self.right - from.x),
            (-dy, from.y - self.top),
            (dy, self.bottom - from.y),
        ];
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (step, room) in sides {
            if step == 0.0 {
                if room < 0.0 {
                    return false;
                }
            } else if step < 0.0 {
                enters = enters.max(room / step);
            } else {
                leaves = leaves.min(room / step);
            }
        }
        enters <= leaves
    }

    /// Whether `other` lies within, give or take `slack`.
    pub fn holds(&self, other: &Rect, slack: f64) -> bool {
        other.left >= self.left - slack
            && other.right <= self.right + slack
            && other.top >= self.top - slack
            && other.bottom <= self.bottom + slack
    }
}

impl Ink {
    /// Black.
    pub const BLACK: Ink = Ink(0, 0, 0);
    /// The paper.
    pub const WHITE: Ink = Ink(255, 255, 255);

    /// A grey: 0 is black, 255 white.
    pub const fn grey(level: u8) -> Ink {
        Ink(level, level, level)
    }
}

impl Text {
    /// Regular black text of `size` that begins at (`x`, `y`), `y` being its base line.
    pub fn new(words: impl Into<String>, x: f64, y: f64, size: f64) -> Text {
        Text {
            words: words.into(),
            at: Point::new(x, y),
            size,
            weight: Weight::Regular,
            anchor: Anchor::Start,
            upward: false,
            ink: Ink::BLACK,
        }
    }

    /// The same in bold.
    pub fn bold(self) -> Text {
        Text {
            weight: Weight::Bold,
            ..self
        }
    }

    /// The same in another colour.
    pub fn ink(self, ink: Ink) -> Text {
        Text { ink, ..self }
    }

    /// The same, its middle at the position.
    pub fn middle(self) -> Text {
        Text {
            anchor: Anchor::Middle,
            ..self
        }
    }

    /// The same, its end at the position.
    pub fn end(self) -> Text {
        Text {
            anchor: Anchor::End,
            ..self
        }
    }

    /// The same, reading upwards.
    pub fn upward(self) -> Text {
        Text {
            upward: true,
            ..self
        }
    }

    /// The same at another position.
    pub fn at(self, x: f64, y: f64) -> Text {
        Text {
            at: Point::new(x, y),
            ..self
        }
    }

    /// How long the text runs, in points.
    pub fn length(&self) -> f64 {
        font::width(&self.words, self.size, self.weight)
    }

    /// Where the base line begins.
    pub fn start(&self) -> Point {
        let back = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => self.length() / 2.0,
            Anchor::End => self.length(),
        };
        if self.upward {
            Point::new(self.at.x, self.at.y + back)
        } else {
            Point::new(self.at.x - back, self.at.y)
        }
    }

    /// Whether a fraction of it is stacked.
    pub fn has_fraction(&self) -> bool {
        self.words.contains(fraction::SLASH)
    }

    /// The same as texts in line, with the bars of its fractions.
    pub fn set(&self) -> Vec<Shape> {
        match self.has_fraction() {
            true => fraction::set(self),
            false => vec![Shape::Text(self.clone())],
        }
    }

    /// The box the text fills: its length, and from its descenders to its capitals.
    pub fn extent(&self) -> Rect {
        let Point { x, y } = self.start();
        let (mut up, mut down) = (self.size * font::CAPITAL, self.size * font::DESCENT);
        if self.has_fraction() {
            let (over, under) = fraction::reach(self.size);
            (up, down) = (up.max(over), down.max(under));
        }
        if self.upward {
            Rect::new(x - up, y - self.length(), x + down, y)
        } else {
            Rect::new(x, y - up, x + self.length(), y + down)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_cross_the_boxes_they_run_through() {
        let rect = Rect::new(10.0, 10.0, 20.0, 20.0);
        let crosses = |a: (f64, f64), b: (f64, f64)| {
            rect.is_crossed(Point::new(a.0, a.1), Point::new(b.0, b.1))
        };
        assert!(crosses((0.0, 15.0), (30.0, 15.0)));
        assert!(crosses((12.0, 12.0), (13.0, 13.0)));
        assert!(crosses((15.0, 0.0), (15.0, 12.0)));
        assert!(!crosses((0.0, 15.0), (9.0, 15.0)));
        assert!(!crosses((0.0, 5.0), (30.0, 5.0)));
        assert!(!crosses((0.0, 19.0), (11.0, 30.0)));
    }
}
