//! How the strips of a section are reached, each from an edge that is really straight.
//!
//! A raw edge is never run along the fence: the first cut follows the chalk at the near edge of
//! the first strip, wherever that lies, and makes the straight edge the fence is set from. Every
//! later strip is ripped from the edge the one before it left.

use super::board::StripWork;
use crate::measure::Length;

/// A rip cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rip {
    /// The strip it frees or helps to free, by number in its section.
    pub strip: usize,
    /// Where its line runs, from the board's near edge: an edge of the strip.
    pub at: Length,
    /// How it is made.
    pub kind: RipKind,
}

/// How a rip is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RipKind {
    /// Along the chalk, with no fence: it makes the section's straight edge.
    Chalk,
    /// Against the fence, the straight edge on the near side of the strip.
    Fence {
        /// From the fence to the blade.
        at: Length,
        /// Waste on the near side is still on the strip, and goes with [`RipKind::Turned`].
        with_waste: bool,
    },
    /// Against the fence, the strip's own far edge to it: what lies on its near side falls away.
    Turned {
        /// From the fence to the blade.
        at: Length,
    },
}

/// The rips of a section in order, those made already left out.
pub(super) fn rips(strips: &[StripWork], kerf: Length) -> Vec<Rip> {
    let mut rips = Vec::new();
    // The straight edge on the near side of what is not ripped yet, once there is one.
    let mut edge: Option<Length> = None;
    for (index, work) in strips.iter().enumerate() {
        let strip = work.strip;
        if !work.done {
            let next = strips[index + 1..].iter().find(|other| other.done);
            let far_is_cut = next.is_some_and(|next| next.strip.low - kerf == strip.high);
            rips.extend(free(work.number, (strip.low, strip.high), edge, far_is_cut));
        }
        edge = Some(strip.high + kerf);
    }
    rips
}

fn free(
    strip: usize,
    (low, high): (Length, Length),
    edge: Option<Length>,
    far_is_cut: bool,
) -> Vec<Rip> {
    let rip = |at, kind| Rip { strip, at, kind };
    let fence = |from: Length, with_waste| {
        let at = high - from;
        rip(high, RipKind::Fence { at, with_waste })
    };
    let turned = rip(low, RipKind::Turned { at: high - low });
    match (edge, far_is_cut) {
        (Some(edge), true) if edge == low => Vec::new(),
        (_, true) => vec![turned],
        (None, false) => vec![rip(low, RipKind::Chalk), fence(low, false)],
        (Some(edge), false) if edge == low => vec![fence(low, false)],
        (Some(edge), false) => vec![fence(edge, true), turned],
    }
}
