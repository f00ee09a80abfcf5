//! Fronts made square where nobody would see that they are not.

use super::outline::Outline;
use super::point::{Line, Point};
use crate::job::{Edge, Edges};

/// To which side an edge that is made square is moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// Into the front: every gap stays at least what it was.
    Inward,
    /// Out of the front: every overlap stays at least what it was.
    Outward,
}

const EDGES: [Edge; 3] = [Edge::Left, Edge::Right, Edge::Top];

/// The outline with as many edges as can be made square to its bottom (parallel to it) while no
/// corner moves farther than `within`; each such edge is moved inwards, so that the front only
/// becomes smaller. With it, where its lower left corner lies in the one given.
pub(super) fn nearly_square(outline: &Outline, within: f64) -> (Outline, Point) {
    let choices = (0..8u8).map(|bits| {
        let on = |n: u8| bits & (1 << n) != 0;
        Edges {
            left: on(0),
            right: on(1),
            top: on(2),
            bottom: false,
        }
    });
    let squared = |edges: &Edges<bool>| EDGES.iter().filter(|&&edge| edges.at(edge)).count();
    let mut best = (*outline, Point::default());
    let (mut most, mut least) = (0, 0.0);
    for edges in choices.filter(|edges| outline.arc.is_none() || !edges.top) {
        let Some(made) = squared_off(outline, &edges, Side::Inward) else {
            continue;
        };
        let moved = farthest(outline, &made);
        let count = squared(&edges);
        if moved <= within && (count > most || (count == most && moved < least)) {
            (most, least) = (count, moved);
            best = made;
        }
    }
    best
}

/// The upright outline around one: it covers all that the one given does.
pub(super) fn square_around(outline: &Outline) -> Option<(Outline, Point)> {
    let edges = Edges {
        top: outline.arc.is_none(),
        bottom: false,
        ..Edges::all(true)
    };
    squared_off(outline, &edges, Side::Outward)
}

fn farthest(outline: &Outline, (made, at): &(Outline, Point)) -> f64 {
    let pairs = outline.quad.corners().into_iter().zip(made.quad.corners());
    pairs
        .map(|(before, after)| before.distance(after.moved(*at, 1.0)))
        .fold(0.0, f64::max)
}

/// Makes some edges square to the bottom.
fn squared_off(outline: &Outline, edges: &Edges<bool>, side: Side) -> Option<(Outline, Point)> {
    let quad = &outline.quad;
    let pick = |a: f64, b: f64, larger: bool| if larger { a.max(b) } else { a.min(b) };
    let inward = side == Side::Inward;
    let line = |edge: Edge| match (edge, edges.at(edge)) {
        (Edge::Left, true) => {
            let x = pick(quad.lower_left.x, quad.upper_left.x, inward);
            Line::through(Point::new(x, 1.0), Point::new(x, 0.0))
        }
        (Edge::Right, true) => {
            let x = pick(quad.lower_right.x, quad.upper_right.x, !inward);
            Line::through(Point::new(x, 0.0), Point::new(x, 1.0))
        }
        (Edge::Top, true) => {
            let y = pick(quad.upper_left.y, quad.upper_right.y, !inward);
            Line::through(Point::new(1.0, y), Point::new(0.0, y))
        }
        _ => quad.edge(edge),
    };
    outline.between(line)
}
