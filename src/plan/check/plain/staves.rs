//! Rule 10 (d): staves are ripped to whole steps; one of a front may be what the others leave
//! missing, and one alone in its section may take all the width there.

use std::collections::BTreeMap;

use super::super::cuts::usable_width;
use super::super::sizes::needed_together;
use super::super::view::{LaneKey, Placed, View};
use super::super::{Rule, Violation};
use crate::measure::Length;

/// The stretches all of whose staves lie on boards that keep the other rules.
pub(super) fn check(view: &View, whole: impl Fn(&Placed) -> bool) -> Vec<Violation> {
    let mut stretches: BTreeMap<(usize, u32), Vec<(LaneKey, Vec<Placed>)>> = BTreeMap::new();
    for (key, lane) in view.lanes() {
        if lane.iter().any(|placed| placed.blank.staves > 1) {
            let of_stretch = stretches.entry((key.run, key.stretch)).or_default();
            of_stretch.push((key, lane));
        }
    }
    stretches.retain(|_, lanes| lanes.iter().flat_map(|(_, lane)| lane).all(&whole));
    stretches
        .values()
        .flat_map(|lanes| of_stretch(view, lanes))
        .collect()
}

/// The staves of one stretch, each a row of blanks of one width.
fn of_stretch(view: &View, lanes: &[(LaneKey, Vec<Placed>)]) -> Vec<Violation> {
    let firsts: Vec<&Placed> = lanes.iter().filter_map(|(_, lane)| lane.first()).collect();
    let fronts = lanes.iter().flat_map(|(_, lane)| lane);
    let widest = fronts.map(|placed| placed.front.across()).max();
    let needed = needed_together(view, widest.unwrap_or_default(), lanes.len());
    let together: Length = firsts.iter().map(|placed| placed.width()).sum();
    let mut odd: Vec<&&Placed> = firsts.iter().filter(|p| !is_plain(view, p)).collect();
    if together == needed {
        // One of them is what the others leave missing.
        odd.pop();
    }
    let step = view.show(view.job.settings.glue.step);
    odd.into_iter()
        .map(|placed| {
            let width = view.show(placed.width());
            let text = format!("stave {width} wide is no whole number of steps of {step}");
            placed.fault(Rule::Plain, text)
        })
        .collect()
}

/// A whole number of steps, or all the width of a section it is alone in.
fn is_plain(view: &View, placed: &Placed) -> bool {
    let step = view.job.settings.glue.step;
    let alone = placed.section.strips.len() == 1;
    let all = usable_width(view, placed.board, placed.section);
    placed.width().nm() % step.nm() == 0 || alone && (placed.blank.low, placed.blank.high) == all
}
