//! What comes off a rectangular blank along an edge that is not square.

use serde::Serialize;

use super::outline::Outline;
use crate::job::Edge;
use crate::measure::Length;

/// A thin triangle to take off along one edge of a rectangular blank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wedge {
    /// The edge it comes off.
    pub edge: Edge,
    /// How much at its thick end.
    pub take_off: Length,
    /// Where its thick end is.
    pub thick_end: Edge,
    /// How long it is: from the thick end to nothing.
    pub over: Length,
    /// A shim that sets the same angle, `fence` away from the cut.
    pub shim: Length,
    /// From the cut to the shim.
    pub fence: Length,
    /// The edge that goes against the crosscut sled's fence, so that the shim at the far end
    /// takes more off the edge away from it.
    pub to_fence: ToFence,
}

/// Which edge of a front lies against the fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum ToFence {
    /// The bottom edge, the reference.
    Bottom,
    /// The top edge, still parallel to the bottom at that time.
    Top,
    /// The left end.
    Left,
    /// The right end.
    Right,
}

/// A front whose corners all lie this near to its blank's is called square.
pub fn square_within() -> Length {
    Length::from_nm(crate::measure::NM_PER_INCH / 64)
}

/// The wedges a front's blank loses: none at the bottom, the reference edge, and none along an
/// arched top. Those thinner than 1/64 in are left out.
pub fn wedges(outline: &Outline, fence: Length) -> Vec<Wedge> {
    let quad = &outline.quad;
    let height = outline.height();
    let end = |edge, lean: f64, length: f64| {
        // `lean`: how far the top corner lies inside the bottom one.
        let thick = if lean > 0.0 { Edge::Top } else { Edge::Bottom };
        wedge(edge, lean.abs(), thick, length, fence)
    };
    let mut found = vec![
        end(Edge::Left, quad.upper_left.x, height),
        end(Edge::Right, quad.lower_right.x - quad.upper_right.x, height),
    ];
    if outline.arc.is_none() {
        let fall = quad.upper_left.y - quad.upper_right.y;
        let thick = if fall > 0.0 { Edge::Right } else { Edge::Left };
        found.push(wedge(Edge::Top, fall.abs(), thick, outline.width(), fence));
    }
    found.retain(|w| w.take_off > square_within());
    found
}

fn wedge(edge: Edge, take_off: f64, thick_end: Edge, over: f64, fence: Length) -> Wedge {
    Wedge {
        edge,
        take_off: Length::from_mm(take_off),
        thick_end,
        over: Length::from_mm(over),
        shim: Length::from_mm(take_off / over * fence.mm()),
        fence,
        to_fence: match thick_end {
            Edge::Top => ToFence::Bottom,
            Edge::Bottom => ToFence::Top,
            Edge::Left => ToFence::Right,
            Edge::Right => ToFence::Left,
        },
    }
}
