//! The fitting sheet as text for the bench, as a table, and as JSON.

mod block;
mod json;
mod table;
mod text;

pub use block::lines;
pub use json::to_json;
pub use table::csv;
pub use text::{everywhere, head, text};

use super::fitted::Fitted;
use super::wedge::{ToFence, Wedge};
use crate::job::{Edge, Edges};
use crate::measure::{Length, Ruler};

/// The order in which a front is worked: square first, the curve after the straight bevels, the
/// holes last.
///
/// Common practice, no source.
pub const ORDER_OF_WORK: [&str; 5] = [
    "Fit the front to its opening first, square: mill the blank, trim the ends, take off the \
     wedges, and try it with the shims in place.",
    "Strike the centre lines on the fitted front: square up from the middle of the bottom edge, \
     and level at the pulls' height. All marks are made from them and from the bottom edge.",
    "Bevel the straight edges while the blank still has straight edges to run on; ends across \
     the grain first, then the edges along it.",
    "Saw the curve of an arched top after that, and bevel it by hand or against a curved \
     carrier: an arched edge can't run against the fence.",
    "Bore for the pulls last, from the face, with the template set to the centre lines.",
];

/// What a maker should keep in mind while doing it.
pub const CAUTIONS: [&str; 3] = [
    "To bevel a front on its edge: a tall fence, a zero-clearance insert, featherboards, the \
     piece clamped to a carrier when it is narrow; never hands above the blade. Guards and \
     push blocks as the saw's manual says: the manual goes before this sheet.",
    "Pieces shorter or narrower than your shop's safe length are planed by hand or held in a \
     carrier.",
    "Movement is reckoned from published averages: boards differ, a finish slows it, and wood \
     that has not come to rest in the shop's air does as it likes.",
];

/// A wedge in words.
fn wedge_words(wedge: &Wedge, ruler: &Ruler) -> String {
    let thick = match wedge.thick_end {
        Edge::Left => "left end",
        Edge::Right => "right end",
        Edge::Top => "top",
        Edge::Bottom => "bottom",
    };
    let fence = match wedge.to_fence {
        ToFence::Bottom => "bottom edge",
        ToFence::Top => "top edge",
        ToFence::Left => "left end",
        ToFence::Right => "right end",
    };
    format!(
        "{} edge: {} off at the {thick}, to nothing over {}; {fence} to the fence, shim {} at {}",
        wedge.edge.word(),
        ruler.show(wedge.take_off),
        ruler.show(wedge.over),
        ruler.show(wedge.shim),
        ruler.show(wedge.fence),
    )
}

/// What the four edges and the diagonals of a front measure.
fn sizes(fitted: &Fitted) -> (Edges<Length>, [Length; 2]) {
    let quad = &fitted.outline.quad;
    (
        quad.sides().map(Length::from_mm),
        [quad.diagonal_up(), quad.diagonal_down()].map(Length::from_mm),
    )
}

/// `left, right, top`: the edges that have something.
fn edge_list(on: &Edges<bool>) -> Vec<&'static str> {
    let having = Edge::ALL.into_iter().filter(|&edge| on.at(edge));
    having.map(Edge::word).collect()
}
