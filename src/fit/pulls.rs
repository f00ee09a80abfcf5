//! Where the holes for pulls go on a finished front.

use super::outline::Outline;
use super::point::Point;
use crate::job::{Edges, PullRule};
use crate::measure::Length;

/// The marks for one front's pulls.
#[derive(Clone, Debug, PartialEq)]
pub struct PullMarks {
    /// Height of the pulls' centre line above the bottom edge.
    pub level: Length,
    /// The holes from left to right.
    pub holes: Vec<Hole>,
    /// Distance between the two holes of one pull.
    pub spacing: Option<Length>,
    /// The holes' diameter.
    pub diameter: Length,
}

/// One hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hole {
    /// Which pull it belongs to, from 1 on, left to right.
    pub pull: u32,
    /// To the right of the front's centre line; negative to its left.
    pub from_centre: Length,
    /// From its centre straight to each edge.
    pub to_edge: Edges<Length>,
    /// Where it is on the front.
    pub at: Point,
}

/// Marks the holes of `count` pulls (0 to 2) on a front, `level` above its bottom edge.
///
/// Marks are made from the bottom edge and from the centre line, which stands square on the
/// middle of the bottom edge.
pub(crate) fn mark(outline: &Outline, rule: &PullRule, count: u32, level: f64) -> PullMarks {
    let middle = outline.quad.lower_right.x / 2.0;
    let apart = outline.quad.lower_right.x * (0.5 - rule.end_share);
    let pulls: &[f64] = match count {
        0 => &[],
        1 => &[0.0],
        _ => &[-apart, apart],
    };
    let half = rule.spacing.map_or(0.0, |s| s.mm() / 2.0);
    let offsets: &[f64] = if half > 0.0 { &[-half, half] } else { &[0.0] };
    let holes = pulls
        .iter()
        .enumerate()
        .flat_map(|(i, pull)| offsets.iter().map(move |off| (i as u32 + 1, pull + off)));
    PullMarks {
        level: Length::from_mm(level),
        holes: holes
            .map(|(pull, off)| hole(outline, pull, off, Point::new(middle + off, level)))
            .collect(),
        spacing: rule.spacing,
        diameter: rule.hole,
    }
}

fn hole(outline: &Outline, pull: u32, off: f64, at: Point) -> Hole {
    Hole {
        pull,
        from_centre: Length::from_mm(off),
        to_edge: outline.clearances(at).map(Length::from_mm),
        at,
    }
}

/// How many pulls a front of a width gets by the rule.
pub(crate) fn count(rule: &PullRule, width: Length) -> u32 {
    match rule.two_from {
        Some(from) if width >= from => 2,
        _ => 1,
    }
}
