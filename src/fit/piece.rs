//! A blank while its edges are trimmed one after another, and the order to trim them in.

use super::outline::Outline;
use super::point::{Line, Point};
use crate::job::{Edge, Edges};

/// Cuts nearer to an edge than this, in millimetres, take nothing off.
const NOTHING: f64 = 1e-4;

/// Four straight edges, each a line with the inside to its left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece(Edges<Line>);

/// One cut of an order that is tried.
#[derive(Clone, Copy, Debug)]
pub(super) struct Try {
    /// The edge that is cut.
    pub edge: Edge,
    /// The edge at the fence.
    pub fence: Edge,
    /// Tangent of how far the cut stands off square to the edge at the fence; more comes off away
    /// from the fence when it is above zero.
    pub slant: f64,
    /// From the corner away from the fence to the cut.
    pub take_off: f64,
    /// From that corner, along the edge that is cut, to where the cut runs out.
    pub over: f64,
    /// How long the edge at the fence is.
    pub against: f64,
    /// Whether that edge was cut before.
    tapered: bool,
    /// Whether the cut takes nothing off at the fence.
    runs_out: bool,
}

impl Piece {
    /// The smallest rectangle with a straight bottom edge that holds an outline.
    pub fn blank(outline: &Outline) -> Piece {
        let (left, right) = outline.quad.reach();
        let height = outline.height();
        let corner = Point::new;
        Piece(Edges {
            left: Line::through(corner(left, height), corner(left, 0.0)),
            right: Line::through(corner(right, 0.0), corner(right, height)),
            top: Line::through(corner(right, height), corner(left, height)),
            bottom: Line::through(corner(left, 0.0), corner(right, 0.0)),
        })
    }

    /// What it is after the last straight cut: an arched top is still the blank's.
    pub fn finished(outline: &Outline) -> Piece {
        let edges = Edges::each(|edge| outline.quad.edge(edge));
        let top = match outline.arc {
            Some(_) => Piece::blank(outline).0.top,
            None => edges.top,
        };
        Piece(Edges { top, ..edges })
    }

    /// Whether an edge has another direction in the end.
    pub fn loses(&self, goal: &Piece, edge: Edge) -> bool {
        let reach = self.length(edge);
        (self.line(edge).turn_to(goal.line(edge)) * reach).abs() > NOTHING
    }

    fn line(&self, edge: Edge) -> Line {
        self.0.at(edge)
    }

    fn corner(&self, a: Edge, b: Edge) -> Point {
        self.line(a).meets(self.line(b)).unwrap_or_default()
    }

    fn length(&self, edge: Edge) -> f64 {
        let [before, after] = neighbours(edge);
        self.corner(before, edge).distance(self.corner(edge, after))
    }

    /// What one cut is, with an edge at the fence; `cut` are the edges cut before.
    fn attempt(&self, goal: &Piece, edge: Edge, fence: Edge, cut: &[Edge]) -> Try {
        let saw = goal.line(edge);
        let far = opposite(fence);
        // Anticlockwise one of the two follows the other; square to each other they turn left.
        let (first, second) = match neighbours(edge)[0] == fence {
            true => (self.line(fence), saw),
            false => (saw, self.line(fence)),
        };
        let corner = self.corner(edge, far);
        let mark = saw.meets(self.line(far)).unwrap_or(corner);
        let out = saw.meets(self.line(edge)).unwrap_or(corner);
        let at_fence = self.corner(edge, fence);
        Try {
            edge,
            fence,
            slant: first.off_square(second),
            take_off: corner.distance(mark),
            over: corner.distance(out).min(self.length(edge)),
            against: self.length(fence),
            tapered: cut.contains(&fence),
            runs_out: saw.left_of(at_fence) >= -NOTHING && saw.left_of(corner) < 0.0,
        }
    }

    fn after(&self, goal: &Piece, edge: Edge) -> Piece {
        let mut edges = self.0;
        *edges.at_mut(edge) = goal.line(edge);
        Piece(edges)
    }
}

/// The edges before and after one, anticlockwise.
fn neighbours(edge: Edge) -> [Edge; 2] {
    match edge {
        Edge::Bottom => [Edge::Left, Edge::Right],
        Edge::Right => [Edge::Bottom, Edge::Top],
        Edge::Top => [Edge::Right, Edge::Left],
        Edge::Left => [Edge::Top, Edge::Bottom],
    }
}

fn opposite(edge: Edge) -> Edge {
    let [_, after] = neighbours(edge);
    neighbours(after)[1]
}

/// The best order in which every cut can be set with a shim no steeper than `steepest`.
pub(super) fn best_order(
    blank: &Piece,
    goal: &Piece,
    edges: &[Edge],
    steepest: f64,
) -> Option<Vec<Try>> {
    let mut best: Option<Vec<Try>> = None;
    let tapered = |order: &[Try]| order.iter().filter(|cut| cut.tapered).count();
    let can = |cut: &Try| cut.runs_out && (-1e-9..=steepest).contains(&cut.slant);
    orders(blank, goal, edges, &mut Vec::new(), &can, &mut |order| {
        if best.as_ref().is_none_or(|b| tapered(order) < tapered(b)) {
            best = Some(order.to_vec());
        }
    });
    best
}

/// Where no order can be set with shims: the edges one after another, to be marked and planed.
pub(super) fn any_order(blank: &Piece, goal: &Piece, edges: &[Edge]) -> Vec<Try> {
    let mut piece = *blank;
    let mut order = Vec::new();
    let mut cut = Vec::new();
    for &edge in edges {
        let tries = neighbours(edge).map(|fence| piece.attempt(goal, edge, fence, &cut));
        let [a, b] = tries;
        order.push(if b.runs_out && !a.runs_out { b } else { a });
        piece = piece.after(goal, edge);
        cut.push(edge);
    }
    order
}

/// Every order of the cuts, and either edge at the fence for each, as long as each cut `can` be
/// made. The ends come first, and the bottom at the fence before the top.
fn orders(
    piece: &Piece,
    goal: &Piece,
    edges: &[Edge],
    done: &mut Vec<Try>,
    can: &dyn Fn(&Try) -> bool,
    found: &mut dyn FnMut(&[Try]),
) {
    let cut: Vec<Edge> = done.iter().map(|cut| cut.edge).collect();
    let mut left = edges.iter().filter(|edge| !cut.contains(edge)).peekable();
    if left.peek().is_none() {
        found(done);
        return;
    }
    for &edge in left {
        let mut fences = neighbours(edge);
        if fences[1] == Edge::Bottom {
            fences.reverse();
        }
        for fence in fences {
            let this = piece.attempt(goal, edge, fence, &cut);
            if can(&this) {
                done.push(this);
                orders(&piece.after(goal, edge), goal, edges, done, can, found);
                done.pop();
            }
        }
    }
}
