//! Every front is made once or said not to be made; a pinned one comes from its board.

use std::collections::{BTreeMap, BTreeSet};

use super::view::{Placed, View};
use super::{Rule, Violation};
use crate::job::Job;
use crate::plan::{Blank, Plan};

/// Fronts the job does not have. The other checks need all of them known.
pub(super) fn known(job: &Job, plan: &Plan) -> Vec<Violation> {
    let sections = plan.boards.iter().flat_map(|board| &board.sections);
    let strips = sections.flat_map(|section| &section.strips);
    let blanks = strips.flat_map(|strip| &strip.blanks);
    blanks
        .map(|blank| blank.front)
        .chain(plan.not_made.iter().map(|missing| missing.front))
        .filter(|&front| front >= job.fronts.len())
        .map(|front| violation(None, format!("the job has no front number {front}")))
        .collect()
}

/// Fronts left out or made twice, staves missing or cut twice, and pinned fronts off their board.
pub(super) fn check(view: &View) -> Vec<Violation> {
    let mut found = once_each(view);
    let blanks = view.blanks();
    found.extend(stave_sets(view, &blanks));
    found.extend(blanks.iter().filter_map(|placed| asked_for(view, placed)));
    found.extend(parted(view, &blanks));
    found
}

fn once_each(view: &View) -> Vec<Violation> {
    let made: BTreeSet<usize> = view.blanks().iter().map(|p| p.blank.front).collect();
    let mut missing: BTreeMap<usize, usize> = BTreeMap::new();
    for not_made in &view.plan.not_made {
        *missing.entry(not_made.front).or_default() += 1;
    }
    let fault = |(index, front): (usize, &crate::job::Front)| {
        let named = missing.get(&index).copied().unwrap_or(0);
        let text = match (made.contains(&index), named) {
            (true, 0) | (false, 1) => return None,
            (true, _) => "made, and listed as not made".to_owned(),
            (false, 0) => "neither made nor listed as not made".to_owned(),
            (false, times) => format!("listed {times} times as not made"),
        };
        Some(violation(Some(front.name.clone()), text))
    };
    view.job
        .fronts
        .iter()
        .enumerate()
        .filter_map(fault)
        .collect()
}

/// A front is cut as staves 1 to k, each once, and all say the same k and the same stretch.
fn stave_sets(view: &View, blanks: &[Placed]) -> Vec<Violation> {
    let mut by_front: BTreeMap<usize, Vec<&Blank>> = BTreeMap::new();
    for placed in blanks {
        by_front
            .entry(placed.blank.front)
            .or_default()
            .push(placed.blank);
    }
    let mut found = Vec::new();
    for (front, blanks) in by_front {
        let name = &view.job.fronts[front].name;
        let mut staves: Vec<u32> = blanks.iter().map(|blank| blank.stave).collect();
        staves.sort_unstable();
        let count = blanks.len() as u32;
        if staves != (1..=count).collect::<Vec<_>>() {
            let text = format!("cut as staves {staves:?}, each should be cut once");
            found.push(violation(Some(name.clone()), text));
        }
        if let Some(blank) = blanks.iter().find(|blank| blank.staves != count) {
            let text = format!(
                "{count} staves cut, but one is said to be of {}",
                blank.staves
            );
            found.push(violation(Some(name.clone()), text));
        }
        if blanks
            .iter()
            .any(|blank| blank.stretch != blanks[0].stretch)
        {
            let text = "its staves are in different stretches".to_owned();
            found.push(violation(Some(name.clone()), text));
        }
    }
    found
}

/// A front comes from a board it may come from; what is cut already stays where it was cut.
fn asked_for(view: &View, placed: &Placed) -> Option<Violation> {
    if view.stood(placed.blank) {
        return None;
    }
    let (front, id) = (placed.front, &placed.board.id);
    let asked = &front.boards;
    let text = if !asked.is_empty() && !asked.contains(id) {
        format!("must come from board {}", asked.join(" or "))
    } else if front.not_boards.contains(id) {
        format!("may not come from board {id}")
    } else if placed.board.left_out {
        format!("board {id} is left out of the plan")
    } else {
        return None;
    };
    Some(placed.fault(Rule::Fronts, text))
}

/// Fronts that are to stay with the next of their run, made in another stretch or without it.
fn parted(view: &View, blanks: &[Placed]) -> Vec<Violation> {
    let stretch = |front: usize| {
        let of = blanks.iter().find(|placed| placed.blank.front == front);
        of.map(|placed| placed.blank.stretch)
    };
    let pairs = view.job.runs.iter().flat_map(|run| run.fronts.windows(2));
    let stood = |front: &usize| {
        let mut of = blanks.iter().filter(|placed| placed.blank.front == *front);
        of.any(|placed| view.stood(placed.blank))
    };
    let apart = pairs.filter(|pair| {
        !pair.iter().any(stood)
            && view.job.fronts[pair[0]].with_next
            && stretch(pair[0]) != stretch(pair[1])
    });
    let told = |pair: &[usize]| {
        let [first, second] = [pair[0], pair[1]].map(|front| &view.job.fronts[front].name);
        violation(
            Some(first.clone()),
            format!("is to be in one stretch with {second}"),
        )
    };
    apart.map(told).collect()
}

fn violation(front: Option<String>, text: String) -> Violation {
    Violation {
        rule: Rule::Fronts,
        board: None,
        front,
        text,
    }
}
