//! In which pieces a stretch may be milled (rule 5), as far as that decides how near its blanks
//! can lie.

use super::row::{Group, Row};
use crate::measure::Length;

/// Every way to part a row into pieces for milling, none of which could always be parted further.
///
/// `most` is how long a piece each blank stays thick enough in, `safe` the shortest piece to mill.
/// A row in one piece may be shorter than that: length is set aside for it then. An empty list of
/// groups asks for nothing: however the row lies, it is thick enough.
pub(super) fn groupings(row: &Row, most: &[Length], safe: Length) -> Vec<Vec<Group>> {
    let last = row.pieces.len() - 1;
    let whole = Group {
        first: 0,
        last,
        least: Length::ZERO,
        most: longest_flat(most, 0, last),
    };
    let longest = row.longest(0, last);
    if longest.is_some_and(|longest| longest.max(safe) <= whole.most) {
        return vec![Vec::new()];
    }
    let mut found = Vec::new();
    if whole.most >= safe && !can_always_be_parted(row, 0, last, safe) {
        found.push(vec![whole]);
    }
    part(row, most, safe, &mut Vec::new(), &mut found);
    found
}

/// Parts what is left of a row after `done`, in two groups or more.
fn part(
    row: &Row,
    most: &[Length],
    safe: Length,
    done: &mut Vec<Group>,
    found: &mut Vec<Vec<Group>>,
) {
    let first = done.last().map_or(0, |group| group.last + 1);
    let count = row.pieces.len();
    for last in first..count {
        if first == 0 && last + 1 == count {
            continue;
        }
        let group = Group {
            first,
            last,
            least: safe,
            most: longest_flat(most, first, last),
        };
        let too_short = row.longest(first, last).is_some_and(|long| long < safe);
        let too_long = row.shortest(first, last) > group.most || safe > group.most;
        if too_long || can_always_be_parted(row, first, last, safe) {
            // A longer group is no thicker, and can be parted where this one can.
            break;
        }
        if too_short {
            continue;
        }
        done.push(group);
        if last + 1 == count {
            found.push(done.clone());
        } else {
            part(row, most, safe, done, found);
        }
        done.pop();
    }
}

fn longest_flat(most: &[Length], first: usize, last: usize) -> Length {
    let of = most[first..=last].iter().copied();
    of.min().unwrap_or_default()
}

/// Whether a group can be milled as two pieces however near its blanks lie.
fn can_always_be_parted(row: &Row, first: usize, last: usize, safe: Length) -> bool {
    (first..last).any(|at| row.shortest(first, at) >= safe && row.shortest(at + 1, last) >= safe)
}
