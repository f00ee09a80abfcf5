//! A four-cornered opening or front.

use super::point::{Line, Point};
use crate::job::{Edge, Edges};

/// Four corners, standing on its bottom edge: the lower left corner is the origin and the
/// lower right one lies to its right. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quad {
    /// The origin.
    pub lower_left: Point,
    /// To the right of the origin.
    pub lower_right: Point,
    /// Above the lower right corner, roughly.
    pub upper_right: Point,
    /// Above the lower left corner, roughly.
    pub upper_left: Point,
}

impl Quad {
    /// A rectangle.
    pub fn rectangle(width: f64, height: f64) -> Quad {
        Quad {
            lower_left: Point::default(),
            lower_right: Point::new(width, 0.0),
            upper_right: Point::new(width, height),
            upper_left: Point::new(0.0, height),
        }
    }

    /// Its corners anticlockwise from the lower left one.
    pub fn corners(&self) -> [Point; 4] {
        [
            self.lower_left,
            self.lower_right,
            self.upper_right,
            self.upper_left,
        ]
    }

    /// Lengths of the four sides.
    pub fn sides(&self) -> Edges<f64> {
        Edges {
            left: self.lower_left.distance(self.upper_left),
            right: self.lower_right.distance(self.upper_right),
            top: self.upper_left.distance(self.upper_right),
            bottom: self.lower_left.distance(self.lower_right),
        }
    }

    /// Lower left to upper right.
    pub fn diagonal_up(&self) -> f64 {
        self.lower_left.distance(self.upper_right)
    }

    /// Upper left to lower right.
    pub fn diagonal_down(&self) -> f64 {
        self.upper_left.distance(self.lower_right)
    }

    /// Whether every corner points outwards.
    pub fn is_convex(&self) -> bool {
        self.turns().iter().all(|&turn| turn > 0.0)
    }

    /// How far each corner is from square, in degrees, anticlockwise from the lower left one.
    pub fn leans(&self) -> [f64; 4] {
        let c = self.corners();
        [3, 0, 1, 2].map(|before| {
            let (here, after) = ((before + 1) % 4, (before + 2) % 4);
            let (a, b) = (c[before].to(c[here]), c[here].to(c[after]));
            a.cross(b).atan2(a.x * b.x + a.y * b.y).to_degrees() - 90.0
        })
    }

    fn turns(&self) -> [f64; 4] {
        let c = self.corners();
        [0, 1, 2, 3].map(|i| {
            c[i].to(c[(i + 1) % 4])
                .cross(c[(i + 1) % 4].to(c[(i + 2) % 4]))
        })
    }

    /// One edge as a line; the inside lies to its left.
    pub(crate) fn edge(&self, edge: Edge) -> Line {
        match edge {
            Edge::Bottom => Line::through(self.lower_left, self.lower_right),
            Edge::Right => Line::through(self.lower_right, self.upper_right),
            Edge::Top => Line::through(self.upper_right, self.upper_left),
            Edge::Left => Line::through(self.upper_left, self.lower_left),
        }
    }

    /// Whether it is convex and the right way round.
    ///
    /// An inset past its own middle comes out convex but turned about: its bottom then runs to
    /// the left, or its sides downwards.
    pub(crate) fn stands_upright(&self) -> bool {
        self.is_convex()
            && self.lower_right.x > self.lower_left.x
            && self.upper_right.x > self.upper_left.x
            && self.upper_left.y > self.lower_left.y
            && self.upper_right.y > self.lower_right.y
    }

    /// The same moved so that its lower left corner is the origin. Its bottom must be level.
    pub(crate) fn at_origin(&self) -> Quad {
        let back = Point::new(-self.lower_left.x, -self.lower_left.y);
        let [lower_left, lower_right, upper_right, upper_left] =
            self.corners().map(|c| c.moved(back, 1.0));
        Quad {
            lower_left,
            lower_right,
            upper_right,
            upper_left,
        }
    }

    /// Leftmost and rightmost x.
    pub(crate) fn reach(&self) -> (f64, f64) {
        (
            self.lower_left.x.min(self.upper_left.x),
            self.lower_right.x.max(self.upper_right.x),
        )
    }
}
