//! What comes off a rectangular blank along the edges that are not square to its bottom.

use serde::Serialize;

use super::outline::Outline;
use super::piece::{Piece, Try};
use crate::job::Edge;
use crate::measure::Length;

/// A thin triangle to take off along one edge of a blank, as the blank is at that moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wedge {
    /// The edge it comes off.
    pub edge: Edge,
    /// How much at its thick end: from the corner there to the cut.
    pub take_off: Length,
    /// Where its thick end is: away from the fence.
    pub thick_end: Edge,
    /// How long it is: from the thick end to nothing.
    pub over: Length,
    /// A shim that sets the cut's angle, `fence` away from it: `shim / fence` is the tangent of
    /// how far the cut stands off square to the edge `to_fence`.
    pub shim: Length,
    /// Along the sled's fence, from the front's corner beside the blade to the near side of the
    /// shim.
    pub fence: Length,
    /// The edge that goes against the sled's fence, so that the shim at the far end takes more
    /// off the edge away from it.
    pub to_fence: ToFence,
    /// How long that edge is then.
    pub against: Length,
    /// What holds the blank at that angle.
    pub held_by: HeldBy,
}

/// Which edge of a front lies against the fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum ToFence {
    /// The bottom edge, the reference.
    Bottom,
    /// The top edge.
    Top,
    /// The left end.
    Left,
    /// The right end.
    Right,
}

/// What holds a blank at the angle of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum HeldBy {
    /// Its own edge, which reaches from the cut to the shim.
    Edge,
    /// A straight batten between fence and blank, because the edge is shorter than that.
    Batten,
    /// Nothing: no sled takes such an angle. A line is marked and planed to.
    Line,
}

/// A front whose corners all lie this near to those of a square one is made square, a little
/// smaller.
pub fn square_within() -> Length {
    Length::from_nm(crate::measure::NM_PER_INCH / 64)
}

/// A tangent steeper than this (a shim of a quarter of the distance, 14 degrees) is not set on a
/// sled with a shim. Common practice, no source.
const STEEPEST: f64 = 0.25;

/// The wedges a front's blank loses, in the order they are cut: none at the bottom, the reference
/// edge, and none along an arched top, which is sawn later.
///
/// Each shim is reckoned against the edge at the fence as it is then. Of all orders, and of both
/// edges that can lie at the fence for each cut, one is taken in which every cut runs to nothing
/// at the fence: a blank turned by a shim loses more the farther from the fence. Among these the
/// one with the fewest cuts against an edge that is tapered already comes first, then the one
/// that begins with the ends. There always is one: the end away from which the top falls can be
/// cut while the top is still square, then the top against the other end, then that end.
pub fn wedges(outline: &Outline, fence: Length) -> Vec<Wedge> {
    let blank = Piece::blank(outline);
    let goal = Piece::finished(outline);
    let edges: Vec<Edge> = [Edge::Left, Edge::Right, Edge::Top]
        .into_iter()
        .filter(|&edge| blank.loses(&goal, edge))
        .collect();
    let found = super::piece::best_order(&blank, &goal, &edges, STEEPEST);
    let (cuts, steep) = match found {
        Some(cuts) => (cuts, false),
        None => (super::piece::any_order(&blank, &goal, &edges), true),
    };
    let wedge = |cut: &Try| Wedge {
        edge: cut.edge,
        take_off: Length::from_mm(cut.take_off),
        thick_end: opposite(cut.fence),
        over: Length::from_mm(cut.over),
        shim: Length::from_mm(cut.slant * fence.mm()),
        fence,
        to_fence: to_fence(cut.fence),
        against: Length::from_mm(cut.against),
        held_by: match (steep, cut.against < fence.mm()) {
            (true, _) => HeldBy::Line,
            (false, true) => HeldBy::Batten,
            (false, false) => HeldBy::Edge,
        },
    };
    cuts.iter().map(wedge).collect()
}

fn opposite(edge: Edge) -> Edge {
    match edge {
        Edge::Left => Edge::Right,
        Edge::Right => Edge::Left,
        Edge::Top => Edge::Bottom,
        Edge::Bottom => Edge::Top,
    }
}

fn to_fence(edge: Edge) -> ToFence {
    match edge {
        Edge::Left => ToFence::Left,
        Edge::Right => ToFence::Right,
        Edge::Top => ToFence::Top,
        Edge::Bottom => ToFence::Bottom,
    }
}
