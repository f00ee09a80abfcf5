//! A crosscut sled and a bench plane, from geometry alone: what a blank looks like after the cuts
//! a fitting sheet asks for. Nothing here comes from the code under test.
//!
//! The sled's fence is a straight line square to the blade. A blank lies with one edge against
//! it; a shim of a thickness stands behind that edge, its near side so far from the blank's corner
//! beside the blade. The blank then touches the fence at that corner and the shim at its near
//! corner. An edge too short to reach the shim lies on a straight batten, which touches both
//! instead. The blank is slid along until the blade is at the mark: for what comes off at the far
//! end, or for where the cut runs out.
#![allow(dead_code)]

use serde_json::Value;

/// A point, to the right and up.
pub type At = (f64, f64);

/// A piece of wood: its corners anticlockwise.
#[derive(Clone, Debug)]
pub struct Workpiece {
    /// The corners.
    pub corners: Vec<At>,
}

/// An edge of a piece, as seen from its face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Bottom,
    Right,
    Top,
    Left,
}

/// A cut as a sheet asks for it.
#[derive(Clone, Copy, Debug)]
pub struct Cut {
    pub edge: Side,
    pub thick_end: Side,
    pub take_off: f64,
    pub over: f64,
    /// The blade is set to where the cut runs out, not to what comes off at the thick end.
    pub by_end: bool,
    pub shim: f64,
    pub fence: f64,
    pub to_fence: Side,
    pub batten: bool,
    /// Marked and planed instead.
    pub by_line: bool,
}

impl Side {
    fn named(word: &Value) -> Side {
        match word.as_str().expect("a word") {
            "bottom" => Side::Bottom,
            "right" => Side::Right,
            "top" => Side::Top,
            "left" => Side::Left,
            other => panic!("{other} is no edge"),
        }
    }

    /// Quarter turns to the right that bring it to the bottom.
    fn quarters(self) -> u32 {
        match self {
            Side::Bottom => 0,
            Side::Right => 1,
            Side::Top => 2,
            Side::Left => 3,
        }
    }
}

impl Cut {
    /// The cuts of one front of a `fit.json`, in its order.
    pub fn all(front: &Value) -> Vec<Cut> {
        let wedges = front["wedges"].as_array().expect("a list");
        let number = |value: &Value| value.as_f64().expect("a number");
        let cut = |wedge: &Value| Cut {
            edge: Side::named(&wedge["edge"]),
            thick_end: Side::named(&wedge["thick_end"]),
            take_off: number(&wedge["take_off"]),
            over: number(&wedge["over"]),
            by_end: false,
            shim: number(&wedge["shim"]),
            fence: number(&wedge["fence"]),
            to_fence: Side::named(&wedge["to_fence"]),
            batten: wedge["held_by"] == "batten",
            by_line: wedge["held_by"] == "line",
        };
        wedges.iter().map(cut).collect()
    }
}

fn sub(a: At, b: At) -> At {
    (a.0 - b.0, a.1 - b.1)
}

fn cross(a: At, b: At) -> f64 {
    a.0 * b.1 - a.1 * b.0
}

/// How far two points are apart.
pub fn apart(a: At, b: At) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// How far `point` lies to the left of the way from `a` to `b`.
pub fn left_of(a: At, b: At, point: At) -> f64 {
    cross(sub(b, a), sub(point, a)) / apart(a, b)
}

impl Workpiece {
    /// A rectangular blank, its lower left corner at the origin.
    pub fn blank(width: f64, height: f64) -> Workpiece {
        let corners = vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
        Workpiece { corners }
    }

    /// The corners of a fitted front from its sides and diagonals, anticlockwise from the lower
    /// left one, by the two circles about the bottom corners.
    pub fn fitted(front: &Value) -> [At; 4] {
        let of = |value: &Value| value.as_f64().expect("a number");
        let sides = &front["sides"];
        let (left, right, bottom) = (
            of(&sides["left"]),
            of(&sides["right"]),
            of(&sides["bottom"]),
        );
        let (up, down) = (of(&front["diagonal_up"]), of(&front["diagonal_down"]));
        let above = |from_left: f64, from_right: f64| {
            let x = (from_left.powi(2) - from_right.powi(2) + bottom.powi(2)) / (2.0 * bottom);
            (x, (from_left.powi(2) - x * x).sqrt())
        };
        [
            (0.0, 0.0),
            (bottom, 0.0),
            above(up, right),
            above(left, down),
        ]
    }

    /// Which side each of its edges belongs to: the one it faces most.
    fn sides(&self) -> Vec<Side> {
        let next = self.corners.iter().cycle().skip(1);
        let pairs = self.corners.iter().zip(next);
        pairs
            .map(|(&a, &b)| {
                let way = sub(b, a);
                match (way.0.abs() >= way.1.abs(), way.0 > 0.0, way.1 > 0.0) {
                    (true, true, _) => Side::Bottom,
                    (true, false, _) => Side::Top,
                    (false, _, true) => Side::Right,
                    (false, _, false) => Side::Left,
                }
            })
            .collect()
    }

    /// Both ends of the longest edge of a side.
    pub fn side(&self, side: Side) -> (At, At) {
        let count = self.corners.len();
        let ends = |i: usize| (self.corners[i], self.corners[(i + 1) % count]);
        let own = self.sides();
        let own = own.iter().enumerate().filter(|(_, s)| **s == side);
        own.map(|(i, _)| ends(i))
            .max_by(|p, q| apart(p.0, p.1).total_cmp(&apart(q.0, q.1)))
            .expect("every side has an edge")
    }

    fn turned(&self, quarters: u32, mirrored: bool) -> Workpiece {
        let turn = |mut p: At| {
            for _ in 0..quarters {
                p = (p.1, -p.0);
            }
            p
        };
        let mut corners: Vec<At> = self.corners.iter().map(|&p| turn(p)).collect();
        if mirrored {
            corners = corners.iter().rev().map(|p| (-p.0, p.1)).collect();
        }
        Workpiece { corners }
    }

    /// Makes one cut.
    pub fn cut(&mut self, cut: &Cut) {
        // Laid with the edge at the fence below and the edge to be cut at the blade, on the right;
        // turned face down where that edge would come to lie on the left.
        let quarters = cut.to_fence.quarters();
        let at_right = (cut.edge.quarters() + 4 - quarters) % 4 == 1;
        let laid = self.turned(quarters, !at_right);
        let thick = (cut.thick_end.quarters() + 4 - quarters) % 4;
        assert_eq!(thick, 2, "the thick end is away from the fence");
        let mark = match cut.by_end {
            true => laid.mark_down(cut.over),
            false => laid.mark(cut.take_off),
        };
        let along = match cut.by_line {
            true => {
                let (foot, _) = laid.side(Side::Right);
                sub(mark, foot)
            }
            false => laid.blade(cut),
        };
        let kept = laid.left_of_line(mark, along);
        let back = match at_right {
            true => kept,
            false => kept.turned(0, true),
        };
        *self = back.turned((4 - quarters) % 4, false);
    }

    /// The spot on the upper side so far from its right end.
    fn mark(&self, from_corner: f64) -> At {
        let sides = self.sides();
        let count = self.corners.len();
        // Where the right side ends and the upper one begins.
        let first = (0..count)
            .find(|&i| sides[i] == Side::Top && sides[(i + count - 1) % count] == Side::Right)
            .expect("an upper right corner");
        let mut left = from_corner;
        let mut i = first;
        loop {
            let (a, b) = (self.corners[i], self.corners[(i + 1) % count]);
            let long = apart(a, b);
            if left <= long || sides[(i + 1) % count] != Side::Top {
                let share = left / long;
                return (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1));
            }
            left -= long;
            i = (i + 1) % count;
        }
    }

    /// The corner at the right end of the lower side.
    fn lower_right(&self) -> At {
        let sides = self.sides();
        let count = self.corners.len();
        let first = (0..count)
            .find(|&i| sides[i] == Side::Right && sides[(i + count - 1) % count] == Side::Bottom);
        self.corners[first.expect("a lower right corner")]
    }

    /// The spot on the right side so far from its upper end.
    fn mark_down(&self, from_corner: f64) -> At {
        // Mirrored about the way between the two sides, right is up and up is right.
        let (up, right) = self.turned(3, true).mark(from_corner);
        (right, up)
    }

    /// The blade's way on the blank as it lies, its edge below at the fence.
    fn blade(&self, cut: &Cut) -> At {
        let (left, right) = self.side(Side::Bottom);
        let pivot = self.lower_right();
        assert!(cut.shim >= 0.0, "a shim has a thickness");
        let reaches = apart(left, pivot) >= cut.fence * 0.99;
        assert!(reaches || cut.batten, "the edge ends before the shim");
        // Where a cut left a sliver of the old edge, the corner lies a hair off the edge's line.
        let off = if cut.batten {
            0.0
        } else {
            left_of(left, right, pivot)
        };
        // On the sled the edge falls towards the blade by this; seen from the blank, the blade
        // leans towards the blank by as much.
        let tilt = ((cut.shim + off) / cut.fence).atan();
        let edge = sub(right, left);
        let along = edge.1.atan2(edge.0) + std::f64::consts::FRAC_PI_2 + tilt;
        (along.cos(), along.sin())
    }

    /// What lies to the left of a line.
    fn left_of_line(&self, at: At, along: At) -> Workpiece {
        let left = |p: At| cross(along, sub(p, at));
        let count = self.corners.len();
        let mut kept = Vec::new();
        for i in 0..count {
            let (a, b) = (self.corners[i], self.corners[(i + 1) % count]);
            let (of_a, of_b) = (left(a), left(b));
            if of_a >= 0.0 {
                kept.push(a);
            }
            if (of_a > 0.0 && of_b < 0.0) || (of_a < 0.0 && of_b > 0.0) {
                let share = of_a / (of_a - of_b);
                kept.push((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
            }
        }
        Workpiece { corners: kept }
    }

    /// The same laid on its bottom edge, its lower left corner at the origin.
    pub fn stood(&self) -> Workpiece {
        let (left, right) = self.side(Side::Bottom);
        let way = sub(right, left);
        let turn = -way.1.atan2(way.0);
        let stood = |&p: &At| {
            let p = sub(p, left);
            (
                p.0 * turn.cos() - p.1 * turn.sin(),
                p.0 * turn.sin() + p.1 * turn.cos(),
            )
        };
        Workpiece {
            corners: self.corners.iter().map(stood).collect(),
        }
    }
}

/// The farthest any corner of a finished piece lies from the fitted front's, and any of its own
/// corners from the front's outline. Under an arch the upper corners are still to be sawn: there
/// the piece's ends must run through them.
pub fn farthest_off(made: &Workpiece, fitted: &[At; 4], arched: bool) -> f64 {
    let mut made = made.stood();
    // Bottom on bottom, middle on middle: a front is no worse for lying a hair to one side.
    let (left, right) = made.side(Side::Bottom);
    let aside = (fitted[1].0 - apart(left, right)) / 2.0;
    for corner in &mut made.corners {
        corner.0 += aside;
    }
    let nearest = |corner: At| {
        let all = made.corners.iter().map(|&p| apart(p, corner));
        all.fold(f64::MAX, f64::min)
    };
    if arched {
        let [lower_left, lower_right, upper_right, upper_left] = *fitted;
        let (top, bottom) = made.side(Side::Left);
        let left = left_of(bottom, top, upper_left).abs();
        let (bottom, top) = made.side(Side::Right);
        let right = left_of(bottom, top, upper_right).abs();
        let below = nearest(lower_left).max(nearest(lower_right));
        return left.max(right).max(below);
    }
    let corners = fitted.iter().map(|&corner| nearest(corner));
    let off_edge = |p: At| {
        let edges = (0..4).map(|i| {
            let (a, b) = (fitted[i], fitted[(i + 1) % 4]);
            let way = sub(b, a);
            let share = (sub(p, a).0 * way.0 + sub(p, a).1 * way.1) / apart(a, b).powi(2);
            let share = share.clamp(0.0, 1.0);
            apart(p, (a.0 + share * way.0, a.1 + share * way.1))
        });
        edges.fold(f64::MAX, f64::min)
    };
    let own = made.corners.iter().map(|&p| off_edge(p));
    corners.chain(own).fold(0.0, f64::max)
}
