//! Rules 2 and 7: a blank is large enough for its front, and so are a glued front's staves
//! together.

use std::collections::BTreeMap;

use super::view::{Placed, View};
use super::{Rule, TOLERANCE, Violation};
use crate::measure::Length;

pub(super) fn check(view: &View) -> Vec<Violation> {
    let blanks = view.blanks();
    let mut found: Vec<Violation> = blanks.iter().filter_map(|p| length(view, p)).collect();
    let mut by_front: BTreeMap<usize, Vec<Placed>> = BTreeMap::new();
    for placed in blanks {
        by_front.entry(placed.blank.front).or_default().push(placed);
    }
    for staves in by_front.values() {
        found.extend(width(view, staves));
        if staves.len() > 1 {
            found.extend(glue(view, staves));
        }
    }
    found
}

fn length(view: &View, placed: &Placed) -> Option<Violation> {
    let needed = placed.front.along() + view.job.settings.allowances.rough_length;
    let text = format!(
        "blank {} long, {} needed",
        view.show(placed.length()),
        view.show(needed)
    );
    (placed.length() + TOLERANCE < needed).then(|| placed.fault(Rule::Sizes, text))
}

/// The widths of all staves (one, when in one piece) against the front's, with a joint for every
/// glue line.
fn width(view: &View, staves: &[Placed]) -> Option<Violation> {
    let first = staves.first()?;
    let settings = &view.job.settings;
    let joints = settings.glue.joint * (staves.len() as i64 - 1);
    let needed = first.front.across() + settings.allowances.rough_width + joints;
    let width: Length = staves.iter().map(Placed::width).sum();
    let slack = TOLERANCE * staves.len() as i64;
    let rule = if staves.len() > 1 {
        Rule::Staves
    } else {
        Rule::Sizes
    };
    let text = format!(
        "{} wide in all, {} needed",
        view.show(width),
        view.show(needed)
    );
    (width + slack < needed).then(|| first.fault(rule, text))
}

/// Only a front that may be glued is, from staves none of which is too narrow.
fn glue(view: &View, staves: &[Placed]) -> Vec<Violation> {
    let least = view.job.settings.glue.least_stave;
    let narrow = |placed: &&Placed| placed.width() + TOLERANCE < least;
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
