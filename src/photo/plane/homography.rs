//! The mapping between two planes that keeps lines straight.
//!
//! Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd ed., section 4.1; with four
//! points the ninth element can be set to 1 as no vanishing line passes through the first corner.

use super::solve::solve;

/// A place in a plane: pixels of a picture, or inches on a board.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Point {
    /// To the right, or along the board.
    pub x: f64,
    /// Down, or across the board.
    pub y: f64,
}

impl Point {
    /// A point.
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    /// How far it is from another.
    pub fn distance(self, other: Point) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// A mapping from one plane to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Homography([f64; 9]);

impl Homography {
    /// The mapping that takes four points to four others. Nothing when three of either lie on a line
    /// or they are not in the same order around.
    pub fn between(from: [Point; 4], to: [Point; 4]) -> Option<Homography> {
        if !is_convex(from) || !is_convex(to) {
            return None;
        }
        let mut matrix = Vec::with_capacity(8);
        let mut right = Vec::with_capacity(8);
        for (p, q) in from.into_iter().zip(to) {
            matrix.push(vec![p.x, p.y, 1.0, 0.0, 0.0, 0.0, -p.x * q.x, -p.y * q.x]);
            matrix.push(vec![0.0, 0.0, 0.0, p.x, p.y, 1.0, -p.x * q.y, -p.y * q.y]);
            right.extend([q.x, q.y]);
        }
        let h = solve(matrix, right)?;
        Some(Homography([
            h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0,
        ]))
    }

    /// Where a point comes to.
    pub fn at(&self, p: Point) -> Point {
        let h = &self.0;
        let w = h[6] * p.x + h[7] * p.y + h[8];
        Point {
            x: (h[0] * p.x + h[1] * p.y + h[2]) / w,
            y: (h[3] * p.x + h[4] * p.y + h[5]) / w,
        }
    }

    /// The way back.
    pub fn back(&self) -> Homography {
        let h = &self.0;
        let minor = |a: usize, b: usize, c: usize, d: usize| h[a] * h[d] - h[b] * h[c];
        Homography([
            minor(4, 5, 7, 8),
            -minor(1, 2, 7, 8),
            minor(1, 2, 4, 5),
            -minor(3, 5, 6, 8),
            minor(0, 2, 6, 8),
            -minor(0, 2, 3, 5),
            minor(3, 4, 6, 7),
            -minor(0, 1, 6, 7),
            minor(0, 1, 3, 4),
        ])
    }

    /// How much longer short distances at a point become, along and across.
    pub fn stretch(&self, p: Point) -> (f64, f64) {
        const STEP: f64 = 1e-3;
        let here = self.at(p);
        let along = self.at(Point::new(p.x + STEP, p.y)).distance(here);
        let across = self.at(Point::new(p.x, p.y + STEP)).distance(here);
        (along / STEP, across / STEP)
    }
}

/// Whether four corners, one after the other, go round without a dent or a fold.
fn is_convex(corners: [Point; 4]) -> bool {
    let turn = |i: usize| {
        let [a, b, c] = [i, i + 1, i + 2].map(|k| corners[k % 4]);
        let cross = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
        let size = a.distance(b) * b.distance(c);
        if cross.abs() > 1e-6 * size {
            cross.signum()
        } else {
            0.0
        }
    };
    let turns: Vec<f64> = (0..4).map(turn).collect();
    turns[0] != 0.0 && turns.iter().all(|t| *t == turns[0])
}
