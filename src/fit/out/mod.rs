//! The fitting sheet as text for the bench, as a table, and as JSON.

mod block;
mod json;
mod table;
mod text;

pub use block::{lines, remarks};
pub use json::to_json;
pub use table::csv;
pub use text::{everywhere, head, text};

use super::fitted::Fitted;
use super::wedge::{HeldBy, ToFence, Wedge};
use crate::job::{Edge, Edges};
use crate::measure::{Length, Ruler, Unit};

/// The order in which a front is worked: square first, the curve after the straight bevels, the
/// holes last.
///
/// Common practice, no source.
pub const ORDER_OF_WORK: [&str; 5] = [
    "Fit the front to its opening first, square: mill the blank, trim the ends, take off the \
     wedges in the order they stand, and try it with the shims in place.",
    "Strike two lines on the fitted front: the centre line, square up from the middle of the \
     bottom edge, and the pull line, level at the pulls' height. All marks are made from them \
     and from the bottom edge.",
    "Bevel the straight edges while the blank still has straight edges to run on; ends across \
     the grain first, then the edges along it.",
    "Saw the curve of an arched top after that, and bevel it by hand or against a curved \
     carrier: an arched edge can't run against the fence.",
    "Bore for the pulls last, from the face, with the template set to the centre line and the pull \
     line.",
];

/// How wedges are cut.
///
/// The geometry is exact; the ways of holding are common practice, no source.
pub const WEDGES: [&str; 4] = [
    "Wedges come off on a crosscut sled, in the order they stand: each shim is reckoned for the \
     front as the cuts before have left it. The edge named lies against the fence with a shim \
     behind its far end; the cut runs to nothing at the fence, and the blade is set to that. What \
     comes off at the other end is marked first and shows whether the angle is right. Under an \
     arch the ends are trimmed while the blank's top is still straight.",
    "The distance of a shim is measured along the fence, from the front's corner beside the blade \
     to the near side of the shim.",
    "Where the front does not reach that far, `on a batten`: a straight batten longer than the \
     distance lies between fence and front, one end beside the blade, the shim so far from that \
     end behind the other. The front is clamped to the sled, never held by hand.",
    "What is too long for the sled, or stands on an edge too short to hold it, is marked instead, \
     from what comes off at one end to nothing at the other, and planed to the line.",
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

/// A front's wedges in words, in the order they are cut.
fn wedge_words(wedges: &[Wedge], ruler: &Ruler) -> Vec<String> {
    let numbered = wedges.iter().enumerate();
    numbered
        .map(|(index, wedge)| {
            let order = match wedges.len() {
                1 => String::new(),
                many => format!("cut {} of {many}, ", index + 1),
            };
            format!("{order}{}", one_wedge(wedge, ruler))
        })
        .collect()
}

fn one_wedge(wedge: &Wedge, ruler: &Ruler) -> String {
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
    let off = format!(
        "{} edge: {} off at the {thick}, to nothing over {}",
        wedge.edge.word(),
        ruler.show(wedge.take_off),
        ruler.show(wedge.over)
    );
    if wedge.held_by == HeldBy::Line {
        return format!("{off}; mark the line and plane to it");
    }
    let batten = match wedge.held_by {
        HeldBy::Batten => format!(", on a batten (that edge is {})", ruler.show(wedge.against)),
        _ => String::new(),
    };
    format!(
        "{off}; {fence} to the fence, shim {} at {}{batten}",
        shim(wedge.shim, ruler),
        ruler.show(wedge.fence),
    )
}

/// A shim's thickness, finer than other sizes: it is set with a caliper, and its error grows with
/// the length of the cut.
fn shim(thickness: Length, ruler: &Ruler) -> String {
    match ruler.unit {
        Unit::Inch => format!("{} ({:.3})", ruler.show(thickness), thickness.inches()),
        Unit::Mm => format!("{:.2}", thickness.mm()),
    }
}

/// What the four edges and the diagonals (up and down, left to right) of a front measure.
pub fn sizes(fitted: &Fitted) -> (Edges<Length>, [Length; 2]) {
    let quad = &fitted.outline.quad;
    (
        quad.sides().map(Length::from_mm),
        [quad.diagonal_up(), quad.diagonal_down()].map(Length::from_mm),
    )
}

/// `left, right, top`: the edges that have something.
pub fn edge_list(on: &Edges<bool>) -> Vec<&'static str> {
    let having = Edge::ALL.into_iter().filter(|&edge| on.at(edge));
    having.map(Edge::word).collect()
}
