//! Defects proposed: knots, cracks and resin as dark spots, sapwood as a pale edge.
//!
//! Nothing found here is a defect before the maker says so.

mod contrast;
mod sapwood;
mod spots;
mod trees;

pub use contrast::Contrast;
pub use spots::{FEATURES, Spot, spots_of};
pub use trees::{Tree, Trees, shipped};

use crate::job::DefectKind;
use crate::photo::plane::Strip;

/// A defect that a picture suggests: a rectangle on the board, in inches.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Proposal {
    /// What it seems to be.
    pub kind: DefectKind,
    /// From, to along; low, high across.
    pub edges: [f64; 4],
    /// 0 to 1, how likely the trees take it to be.
    pub confidence: f64,
}

/// Proposals below this confidence are not shown.
const LEAST: f64 = 0.5;

/// Proposals above this confidence are taken when all are accepted: some 5 are wrong on an 8 ft
/// board (`benches/RESULTS.md`).
pub const LIKELY: f64 = 0.8;

/// What seems to be wrong with a board's face, evened; from the hook end on.
pub fn propose(face: &Strip) -> Vec<Proposal> {
    let contrast = Contrast::of(face);
    let trees = shipped();
    let judged = spots_of(&contrast).into_iter().map(|spot| {
        let confidence = trees.confidence(&spot.features);
        Proposal {
            kind: spot.kind(),
            edges: spot.edges(&contrast),
            confidence,
        }
    });
    let mut proposals: Vec<Proposal> = apart(judged.filter(|p| p.confidence >= LEAST).collect());
    proposals.extend(sapwood::propose(face));
    proposals.sort_by(|a, b| {
        a.edges[0]
            .total_cmp(&b.edges[0])
            .then(a.edges[2].total_cmp(&b.edges[2]))
    });
    proposals
}

/// The surest of those that lie on one another. Larger rectangles nearly as sure agree less well with
/// those people draw (measured), so they are not taken instead.
pub fn apart(mut proposals: Vec<Proposal>) -> Vec<Proposal> {
    proposals.sort_by(|a, b| b.confidence.total_cmp(&a.confidence));
    let mut kept: Vec<Proposal> = Vec::new();
    for proposal in proposals {
        if kept
            .iter()
            .all(|other| shared(&other.edges, &proposal.edges) < 0.4)
        {
            kept.push(proposal);
        }
    }
    kept
}

/// The part of the smaller of two rectangles that they share.
pub fn shared(a: &[f64; 4], b: &[f64; 4]) -> f64 {
    let over = |i: usize| (a[i + 1].min(b[i + 1]) - a[i].max(b[i])).max(0.0);
    let area = |r: &[f64; 4]| (r[1] - r[0]) * (r[3] - r[2]);
    over(0) * over(2) / area(a).min(area(b)).max(1e-9)
}

#[cfg(test)]
mod tests;
