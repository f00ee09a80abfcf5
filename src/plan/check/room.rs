//! The end of rule 5: a stretch too short to be milled safely needs that much of its strip free.

use super::left::Left;
use super::thickness::span;
use super::view::{LaneKey, Placed, View};
use super::{Rule, Violation};
use crate::measure::Length;

/// A blank that is cut already has left its strip, and needs none of it; nor can what was lost, or
/// lies beyond a crosscut, be had for it.
pub(super) fn check(view: &View) -> Vec<Violation> {
    let blanks = view.blanks();
    let left = Left::new(view.sawn, view.job.settings.allowances.crosscut_kerf);
    let strips = blanks.chunk_by(|a, b| a.at[..3] == b.at[..3]);
    strips
        .flat_map(|strip| in_strip(view, strip, left))
        .collect()
}

/// Takes the stretches of a strip from the hook end on and gives each short one the length
/// nearest the hook end that holds it and is free of other blanks and of what was given to
/// others: pieces of the strip like any, so a saw cut lies between. Nothing can be gained by
/// taking it farther out, so that a short stretch left without room has none at all.
fn in_strip(view: &View, strip: &[Placed], left: Left<'_>) -> Vec<Violation> {
    let allow = &view.job.settings.allowances;
    let (safe, kerf) = (allow.shortest_safe, allow.crosscut_kerf);
    let lane = |placed: &Placed| -> LaneKey { view.lane_of(placed.blank) };
    let together = |a: &Placed, b: &Placed| lane(a) == lane(b) && left.joined(a, b);
    let stretches: Vec<&[Placed]> = strip.chunk_by(together).collect();
    let mut found = Vec::new();
    let mut free_from = strip[0].section.from;
    for (index, stretch) in stretches.iter().enumerate() {
        let (first, last) = (&stretch[0], &stretch[stretch.len() - 1]);
        let mut taken_to = Length::ZERO;
        if span(stretch) < safe && !stretch.iter().all(|placed| left.is_cut(placed)) {
            let (whole_from, whole_to) = left.around(first, last);
            let start = free_from.max(whole_from).max(last.blank.to - safe);
            taken_to = start + safe;
            let free_to = match stretches.get(index + 1) {
                Some(next) => whole_to.min(next[0].blank.from - kerf),
                None => whole_to,
            };
            if start > first.blank.from || taken_to > free_to {
                let text = format!(
                    "its stretch is shorter than {} and the strip has not that much free for it",
                    view.show(safe)
                );
                found.push(first.fault(Rule::Thickness, text));
            }
        }
        free_from = taken_to.max(last.blank.to) + kerf;
    }
    found
}
