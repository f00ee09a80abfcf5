//! Which curve runs over a front's top: its own, or its slice of an arch it shares.

use super::arc::radius_of;
use super::suspect::Drawn;
use crate::job::{Front, Job, Shape, SharedArch};
use crate::measure::Length;

/// The curve over a front. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Over<'a> {
    /// A straight top.
    Straight,
    /// An arch of its own.
    Own {
        /// Crown above the corners.
        rise: f64,
    },
    /// A slice of an arch that runs over its neighbours too.
    Slice {
        /// The arch.
        arch: &'a SharedArch,
        /// From the arch's centre line to the front's left side, as drawn.
        from: f64,
        /// Whether all distances between the arch's fronts are known, so that `from` is too.
        placed: bool,
    },
}

impl Over<'_> {
    /// The curve over a front of a job.
    pub fn of<'a>(job: &'a Job, front: &Front) -> Over<'a> {
        let arches = &job.settings.fitting.arches;
        let shared = arches.iter().find(|arch| arch.fronts.contains(&front.name));
        match (shared, front.shape) {
            (Some(arch), _) => slice(job, arch, &front.name),
            (None, Shape::Arch { rise }) => Over::Own { rise: rise.mm() },
            (None, Shape::Square | Shape::Slice { .. }) => Over::Straight,
        }
    }

    /// The circle's radius over a straight line of this length from corner to corner.
    pub fn radius(&self, across: f64) -> Option<f64> {
        match self {
            Over::Straight => None,
            Over::Own { rise } => Some(radius_of(across, *rise)),
            Over::Slice { arch, .. } => Some(radius_of(arch.chord.mm(), arch.rise.mm())),
        }
    }

    /// The front as drawn in `fronts.csv`: its height there is to its highest point.
    pub fn drawn(&self, front: &Front) -> Drawn {
        let (width, height) = (front.width.mm(), front.height.mm());
        match *self {
            Over::Straight => Drawn {
                width,
                left: height,
                higher: 0.0,
            },
            Over::Own { rise } => Drawn {
                width,
                left: height - rise,
                higher: 0.0,
            },
            Over::Slice { arch, from, .. } => {
                let above = |x: f64| above_spring(arch, x);
                let (left, right) = (above(from), above(from + width));
                let crest = from <= 0.0 && from + width >= 0.0;
                let highest = if crest { above(0.0) } else { left.max(right) };
                Drawn {
                    width,
                    left: height - highest + left,
                    higher: right - left,
                }
            }
        }
    }
}

/// Height of an arch above the line it springs from, `x` from its centre line.
fn above_spring(arch: &SharedArch, x: f64) -> f64 {
    let (chord, rise) = (arch.chord.mm(), arch.rise.mm());
    let radius = radius_of(chord, rise);
    (radius * radius - x * x).max(0.0).sqrt() - (radius - rise)
}

/// Where a front stands under its arch: all its fronts and the distances between them together
/// are taken to be centred under it.
fn slice<'a>(job: &Job, arch: &'a SharedArch, name: &str) -> Over<'a> {
    let fronts: Vec<&Front> = arch
        .fronts
        .iter()
        .filter_map(|n| job.fronts.iter().find(|f| &f.name == n))
        .collect();
    let space = |f: &Front| f.space_after.unwrap_or(Length::ZERO).mm();
    let (last, others) = fronts
        .split_last()
        .map_or((None, &[][..]), |(l, o)| (Some(l), o));
    let before_last: f64 = others.iter().map(|f| f.width.mm() + space(f)).sum();
    let whole = before_last + last.map_or(0.0, |f| f.width.mm());
    let before: f64 = fronts
        .iter()
        .take_while(|f| f.name != name)
        .map(|f| f.width.mm() + space(f))
        .sum();
    Over::Slice {
        arch,
        from: before - whole / 2.0,
        placed: others.iter().all(|f| f.space_after.is_some()),
    }
}
