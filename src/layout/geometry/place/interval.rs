//! Where along a board a section may lie: the lengths that cannot be made shorter.
//!
//! For a stack of strips let E(f) be the earliest end when nothing starts before f, and S(t) the latest
//! start when nothing ends after t. A section is tight (rule 10a) just where t = E(f) and f = S(t). Those
//! pairs are single places, pinned between defects, and *slides*, along which the section moves as one
//! piece until a blank meets a defect. Between two meetings nothing changes, so walking from meeting to
//! meeting finds them all.

use crate::layout::geometry::place::pack::Packed;

/// Tight places of a section: its hook end anywhere from `first` to `last`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::layout) struct Interval {
    pub(in crate::layout) first: i64,
    pub(in crate::layout) last: i64,
    pub(in crate::layout) long: i64,
    /// Hook ends at which a blank with no slack between it and the hook end is just clear of a defect.
    pub(in crate::layout) hook_held: Vec<i64>,
    /// The same for the far end.
    pub(in crate::layout) far_held: Vec<i64>,
}

/// What lays out a section, or several, as near as can be to one end.
pub(in crate::layout) trait Packer {
    /// The earliest end with no start before `at`.
    fn earliest(&self, at: i64) -> Option<Packed>;
    /// The latest start with no end past `to`.
    fn latest(&self, to: i64) -> Option<Packed>;
}

/// Tight places looked at; where there are more, the search is not complete.
const MOST: usize = 400;

/// All tight places of what `packer` lays out from `from` on, and whether these are all; `lines` are the
/// places along the board where a blank meets a defect.
pub(in crate::layout) fn intervals(
    packer: &impl Packer,
    from: i64,
    lines: &[i64],
) -> (Vec<Interval>, bool) {
    let mut found: Vec<Interval> = Vec::new();
    let mut at = from;
    for _ in 0..MOST {
        let Some((first, near, far)) = tight(packer, at) else {
            return (found, true);
        };
        let last = first + slide(packer, &near, first, lines);
        let held = |packed: &Packed| -> Vec<i64> {
            let held = packed.held.iter().map(|by| first + by);
            let mut held: Vec<i64> = held.filter(|at| (first..=last).contains(at)).collect();
            held.sort_unstable();
            held.dedup();
            held
        };
        found.push(Interval {
            first,
            last,
            long: near.to - first,
            hook_held: held(&near),
            far_held: held(&far),
        });
        at = last + 1;
    }
    (found, false)
}

/// The first tight place with its start at `at` or later: its start, and what is packed from there and
/// back from its end.
fn tight(packer: &impl Packer, at: i64) -> Option<(i64, Packed, Packed)> {
    let to = packer.earliest(at)?.to;
    let far = packer.latest(to)?;
    let near = packer.earliest(far.from)?;
    Some((far.from, near, far))
}

/// How far a section packed at `first` moves as one piece.
fn slide(packer: &impl Packer, packed: &Packed, first: i64, lines: &[i64]) -> i64 {
    let ends = |by: i64| packer.earliest(first + by).map(|p| p.to) == Some(packed.to + by);
    if !ends(1) {
        return 0;
    }
    let sides = (packed.blanks.iter()).flat_map(|&(from, to)| [from, to]);
    let sides: Vec<i64> = sides.chain([first, packed.to]).collect();
    let meets = |side: &i64| {
        let ahead = lines.iter().map(move |line| line - side);
        ahead.filter(|&by| by > 1).min()
    };
    let next = sides.iter().filter_map(meets).min();
    match next {
        Some(next) if ends(next) => next,
        Some(next) => {
            // Something else was met first: halve down to where it moves as one piece.
            let (mut good, mut bad) = (1, next);
            while bad - good > 1 {
                let middle = good + (bad - good) / 2;
                if ends(middle) {
                    good = middle;
                } else {
                    bad = middle;
                }
            }
            good
        }
        // Nothing ahead but the end of the board.
        None => {
            let (mut good, mut bad) = (1, packed.limit - packed.to + 1);
            while bad - good > 1 {
                let middle = good + (bad - good) / 2;
                if ends(middle) {
                    good = middle;
                } else {
                    bad = middle;
                }
            }
            good
        }
    }
}
