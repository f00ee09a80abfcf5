//! Rule 4: a stretch is neighbours of a run, in order, in one strip, with little lost between.

use std::collections::BTreeMap;

use super::view::{LaneKey, Lanes, Placed, View};
use super::{Rule, Violation};
use crate::job::Between;
use crate::measure::Length;
use crate::plan::End;

pub(super) fn check(view: &View) -> Vec<Violation> {
    let mut found = Vec::new();
    let lanes = view.lanes();
    for (&key, blanks) in &lanes {
        let lane = from_left(blanks);
        found.extend(in_one_strip(&lane));
        found.extend(in_run_order(view, &lane));
        found.extend(shared(view, &lane));
        found.extend(between(view, &lane));
        found.extend(same_fronts_as_first_stave(&lanes, key));
    }
    found.extend(numbering(view));
    found
}

/// The blanks from the end the stretch's left faces on.
fn from_left<'a>(blanks: &[Placed<'a>]) -> Vec<Placed<'a>> {
    let mut lane = blanks.to_vec();
    if lane
        .first()
        .is_some_and(|placed| placed.blank.left == End::Far)
    {
        lane.reverse();
    }
    lane
}

fn pairs<'a, 'b>(lane: &'b [Placed<'a>]) -> impl Iterator<Item = (&'b Placed<'a>, &'b Placed<'a>)> {
    lane.windows(2).map(|pair| (&pair[0], &pair[1]))
}

/// Neighbours of a stretch are neighbours in their strip: nothing foreign lies between.
fn in_one_strip(lane: &[Placed]) -> Vec<Violation> {
    let apart = |(first, second): (&Placed, &Placed)| {
        let near = first.at[..3] == second.at[..3] && first.at[3].abs_diff(second.at[3]) == 1;
        let text = format!("not next to {} in one strip", first.front.name);
        (!near).then(|| second.fault(Rule::Stretches, text))
    };
    pairs(lane).filter_map(apart).collect()
}

fn in_run_order(view: &View, lane: &[Placed]) -> Vec<Violation> {
    let place = |placed: &Placed| view.places[placed.blank.front].1;
    let jump = |(first, second): (&Placed, &Placed)| {
        let text = format!(
            "cut next to {}, which is not before it in the run",
            first.front.name
        );
        (place(first) + 1 != place(second)).then(|| second.fault(Rule::Stretches, text))
    };
    pairs(lane).filter_map(jump).collect()
}

/// One low, high, left and face for all of a stretch's lane, and one number of staves.
fn shared(view: &View, lane: &[Placed]) -> Vec<Violation> {
    let differs = |(first, second): (&Placed, &Placed)| {
        let (a, b) = (first.blank, second.blank);
        let text = if (a.low, a.high) != (b.low, b.high) {
            let (low, high) = (view.show(b.low), view.show(b.high));
            format!("lies {low} to {high} across, {} does not", first.front.name)
        } else if a.left != b.left || a.face != b.face {
            format!("its left end or face is not that of {}", first.front.name)
        } else if a.staves != b.staves {
            format!(
                "of {} staves, {} of {}",
                b.staves, first.front.name, a.staves
            )
        } else {
            return None;
        };
        Some(second.fault(Rule::Stretches, text))
    };
    pairs(lane).filter_map(differs).collect()
}

/// The wood lost between finished neighbours: what lies between their blanks, and half of what
/// either blank is longer than its front. Between blanks of the least size that is the gap and
/// one `rough_length`.
fn between(view: &View, lane: &[Placed]) -> Vec<Violation> {
    let allow = &view.job.settings.allowances;
    let mut found = Vec::new();
    for (first, second) in pairs(lane) {
        let gap = match first.blank.left {
            End::Hook => second.blank.from - first.blank.to,
            End::Far => first.blank.from - second.blank.to,
        };
        let over = |placed: &Placed| placed.length() - placed.front.along();
        let lost = gap + (over(first) + over(second)).half();
        if lost > allow.longest_skip && !first.front.alike {
            let (lost, most) = (view.show(lost), view.show(allow.longest_skip));
            let text = format!("{lost} lost after {}, at most {most}", first.front.name);
            found.push(second.fault(Rule::Stretches, text));
        }
        let wanted = match allow.between {
            Between::Tight => Length::ZERO,
            Between::AsBuilt => first.front.space_after.unwrap_or_default(),
        };
        if lost < wanted {
            let (lost, wanted) = (view.show(lost), view.show(wanted));
            let text = format!("{lost} lost after {}, {wanted} as built", first.front.name);
            found.push(second.fault(Rule::Stretches, text));
        }
    }
    found
}

/// Every stave of a stretch holds the same fronts (rule 7).
fn same_fronts_as_first_stave(lanes: &Lanes, key: LaneKey) -> Option<Violation> {
    let fronts = |key: LaneKey| {
        let lane = lanes.get(&key).map(Vec::as_slice).unwrap_or_default();
        let mut fronts: Vec<usize> = lane.iter().map(|placed| placed.blank.front).collect();
        fronts.sort_unstable();
        fronts
    };
    let same = fronts(key) == fronts(LaneKey { stave: 1, ..key });
    let text = format!("stave {} holds other fronts than stave 1", key.stave);
    (!same).then(|| lanes[&key][0].fault(Rule::Staves, text))
}

/// The stretches of a run are numbered 1, 2, ... along it.
fn numbering(view: &View) -> Vec<Violation> {
    let mut by_run: BTreeMap<usize, BTreeMap<usize, u32>> = BTreeMap::new();
    for placed in view.blanks() {
        let (run, place) = view.places[placed.blank.front];
        by_run
            .entry(run)
            .or_default()
            .insert(place, placed.blank.stretch);
    }
    let mut found = Vec::new();
    for (run, numbers) in by_run {
        let mut last = 0;
        let steps = numbers.values().all(|&number| {
            let next = number == last || number == last + 1;
            last = number;
            next && number > 0
        });
        if !steps {
            let numbers: Vec<u32> = numbers.into_values().collect();
            let run = &view.job.runs[run].name;
            found.push(Violation {
                rule: Rule::Stretches,
                board: None,
                front: None,
                text: format!("run {run}: stretches are numbered {numbers:?} along it"),
            });
        }
    }
    found
}
