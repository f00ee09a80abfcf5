//! Rules 2 and 7: a blank is just as large as its front and its stretch need, and a glued front's
//! staves are large enough together.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::view::{Lanes, Placed, View};
use super::{Rule, Violation};
use crate::measure::Length;

pub(super) fn check(view: &View) -> Vec<Violation> {
    let blanks = view.blanks();
    let mut found: Vec<Violation> = blanks.iter().filter_map(|p| length(view, p)).collect();
    found.extend(widths(view, &view.lanes()));
    let mut by_front: BTreeMap<usize, Vec<Placed>> = BTreeMap::new();
    for placed in blanks.into_iter().filter(is_stave) {
        by_front.entry(placed.blank.front).or_default().push(placed);
    }
    for staves in by_front.values() {
        found.extend(staves_together(view, staves));
        found.extend(glue(view, staves));
    }
    found
}

fn is_stave(placed: &Placed) -> bool {
    placed.blank.staves > 1
}

fn length(view: &View, placed: &Placed) -> Option<Violation> {
    let needed = placed.front.along() + view.job.settings.allowances.rough_length;
    let text = format!(
        "blank {} long, {} needed",
        view.show(placed.length()),
        view.show(needed)
    );
    (placed.length() != needed).then(|| placed.fault(Rule::Sizes, text))
}

/// The blanks in one piece against what the widest front of their stretch needs.
fn widths(view: &View, lanes: &Lanes) -> Vec<Violation> {
    let rough = view.job.settings.allowances.rough_width;
    let mut found = Vec::new();
    for lane in lanes.values() {
        let widest = lane.iter().map(|placed| placed.front.across()).max();
        let needed = widest.unwrap_or_default() + rough;
        // Chalk that stays may have lost the front that made its stretch so wide.
        let wrong = |placed: &&Placed| match placed.width().cmp(&needed) {
            Ordering::Less => !is_stave(placed),
            Ordering::Equal => false,
            Ordering::Greater => !is_stave(placed) && !view.stood(placed.blank),
        };
        found.extend(lane.iter().filter_map(|placed| too_wide(view, placed)));
        found.extend(lane.iter().filter(wrong).map(|placed| {
            let (width, needed) = (view.show(placed.width()), view.show(needed));
            let text = format!("blank {width} wide, its stretch needs {needed}");
            placed.fault(Rule::Sizes, text)
        }));
    }
    found
}

/// What is not cut yet is no wider than the machines take.
fn too_wide(view: &View, placed: &Placed) -> Option<Violation> {
    let most = view.job.settings.machines.widest?;
    let text = format!(
        "blank {} wide, the machines take {} at most",
        view.show(placed.width()),
        view.show(most)
    );
    let wide = placed.width() > most && !view.stood(placed.blank);
    wide.then(|| placed.fault(Rule::Sizes, text))
}

/// How wide the blanks of `staves` staves are together at least: `across` is the finished width.
pub(super) fn needed_together(view: &View, across: Length, staves: usize) -> Length {
    let settings = &view.job.settings;
    let joints = settings.glue.joint * (staves as i64 - 1);
    across + settings.allowances.rough_width + joints
}

/// The widths of all staves of a front against its own, with a joint for every glue line.
fn staves_together(view: &View, staves: &[Placed]) -> Option<Violation> {
    let first = staves.first()?;
    let needed = needed_together(view, first.front.across(), staves.len());
    let width: Length = staves.iter().map(Placed::width).sum();
    let text = format!(
        "{} wide in all, {} needed",
        view.show(width),
        view.show(needed)
    );
    (width < needed).then(|| first.fault(Rule::Staves, text))
}

/// Only a front that may be glued is, from staves none of which is too narrow.
fn glue(view: &View, staves: &[Placed]) -> Vec<Violation> {
    let least = view.job.settings.glue.least_stave;
    let narrow = |placed: &&Placed| placed.width() < least;
    let narrow_fault = |placed: &Placed| {
        let (width, least) = (view.show(placed.width()), view.show(least));
        placed.fault(
            Rule::Staves,
            format!("stave {width} wide, at least {least} asked"),
        )
    };
    let mut found: Vec<Violation> = staves.iter().filter(narrow).map(narrow_fault).collect();
    if let Some(first) = staves.first().filter(|placed| !placed.front.glue) {
        found.push(first.fault(Rule::Staves, "may not be glued".to_owned()));
    }
    found
}
