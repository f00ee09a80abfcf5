//! Points and lines in the plane of the case's face, in millimetres: x to the right, y up.

/// A point, or the way from one point to another.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

/// A straight line through a point.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Line {
    at: Point,
    /// One millimetre along it.
    along: Point,
}

impl Point {
    /// The point `x` to the right and `y` up.
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    /// The way from `self` to `other`.
    pub fn to(self, other: Point) -> Point {
        Point::new(other.x - self.x, other.y - self.y)
    }

    /// `self` moved `times` the way `way`.
    pub fn moved(self, way: Point, times: f64) -> Point {
        Point::new(self.x + times * way.x, self.y + times * way.y)
    }

    /// How far it is from `self` to `other`.
    pub fn distance(self, other: Point) -> f64 {
        self.to(other).length()
    }

    /// Length of the way.
    pub fn length(self) -> f64 {
        self.x.hypot(self.y)
    }

    /// Positive when `other` points to the left of `self`.
    pub fn cross(self, other: Point) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// The way turned a quarter to the left.
    pub fn turned_left(self) -> Point {
        Point::new(-self.y, self.x)
    }
}

impl Line {
    /// Through two points, which must differ.
    pub fn through(a: Point, b: Point) -> Line {
        let way = a.to(b);
        let length = way.length();
        Line {
            at: a,
            along: Point::new(way.x / length, way.y / length),
        }
    }

    /// The parallel `distance` to the left.
    pub fn shifted_left(self, distance: f64) -> Line {
        Line {
            at: self.at.moved(self.along.turned_left(), distance),
            along: self.along,
        }
    }

    /// Where two lines meet, unless they are parallel.
    pub fn meets(self, other: Line) -> Option<Point> {
        let turn = self.along.cross(other.along);
        (turn.abs() > 1e-12).then(|| {
            let far = self.at.to(other.at).cross(other.along) / turn;
            self.at.moved(self.along, far)
        })
    }

    /// Sine of the turn to the left from this line to another.
    pub fn turn_to(self, other: Line) -> f64 {
        self.along.cross(other.along)
    }

    /// Tangent of how much farther than square the way turns from this line into another.
    pub fn off_square(self, other: Line) -> f64 {
        let dot = self.along.x * other.along.x + self.along.y * other.along.y;
        -dot / self.along.cross(other.along)
    }

    /// How far a point lies to the left.
    pub fn left_of(self, point: Point) -> f64 {
        self.along.cross(self.at.to(point))
    }

    /// Where the line meets a circle, the meeting farthest up.
    pub fn meets_circle_above(self, centre: Point, radius: f64) -> Option<Point> {
        let away = self.left_of(centre);
        let half = (radius * radius - away * away).max(0.0).sqrt();
        let foot = centre.moved(self.along.turned_left(), -away);
        let ends = [half, -half].map(|d| foot.moved(self.along, d));
        let [a, b] = ends;
        (away.abs() <= radius).then_some(if a.y >= b.y { a } else { b })
    }
}

/// The point `from_a` away from `a` and `from_b` from `b`, to the left of the way from a to b.
///
/// Nothing when the three lengths make no triangle.
pub(crate) fn apex(a: Point, b: Point, from_a: f64, from_b: f64) -> Option<Point> {
    let base = a.distance(b);
    let along = (from_a * from_a - from_b * from_b + base * base) / (2.0 * base);
    let up = from_a * from_a - along * along;
    (up > 0.0).then(|| {
        let way = a.to(b);
        a.moved(way, along / base)
            .moved(way.turned_left(), up.sqrt() / base)
    })
}
