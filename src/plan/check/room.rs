//! The end of rule 5: a stretch too short to be milled safely needs that much of its strip free.

use super::thickness::span;
use super::view::{LaneKey, Placed, View};
use super::{Rule, Violation};
use crate::measure::Length;

/// A blank that is cut already has left its strip, and needs none of it.
pub(super) fn check(view: &View) -> Vec<Violation> {
    let blanks = view.blanks();
    let is_cut = |placed: &Placed| view.is_cut(placed.blank);
    let strips = blanks.chunk_by(|a, b| a.at[..3] == b.at[..3]);
    strips
        .flat_map(|strip| in_strip(view, strip, &is_cut))
        .collect()
}

/// Takes the stretches of a strip from the hook end on and gives each short one the length
/// nearest the hook end that holds it and is free of other blanks and of what was given to
/// others: pieces of the strip like any, so a saw cut lies between. Nothing can be gained by
/// taking it farther out, so that a short stretch left without room has none at all.
fn in_strip(view: &View, strip: &[Placed], is_cut: &dyn Fn(&Placed) -> bool) -> Vec<Violation> {
    let allow = &view.job.settings.allowances;
    let (safe, kerf) = (allow.shortest_safe, allow.crosscut_kerf);
    let lane = |placed: &Placed| -> LaneKey { view.lane_of(placed.blank) };
    let stretches: Vec<&[Placed]> = strip.chunk_by(|a, b| lane(a) == lane(b)).collect();
    let mut found = Vec::new();
    let mut free_from = strip[0].section.from;
    for (index, stretch) in stretches.iter().enumerate() {
        let (first, last) = (&stretch[0], &stretch[stretch.len() - 1]);
        let mut taken_to = Length::ZERO;
        if span(stretch) < safe && !stretch.iter().all(is_cut) {
            let start = free_from.max(last.blank.to - safe);
            taken_to = start + safe;
            let free_to = match stretches.get(index + 1) {
                Some(next) => next[0].blank.from - kerf,
                None => first.section.to,
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
