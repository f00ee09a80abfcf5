//! Rule 10 (d): staves are ripped to whole steps; one of a front may be what the others leave
//! missing, and one alone in its section may take all the width there.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::super::cuts::usable_width;
use super::super::sizes::needed_together;
use super::super::view::{LaneKey, Placed, View};
use super::super::{Rule, Violation};
use super::strip_stood;
use crate::measure::Length;
use crate::plan::Strip;

/// One stave's row of a stretch.
type Stave<'a> = (LaneKey, Vec<Placed<'a>>);

/// The stretches that are new and all of whose staves lie on boards that keep the other rules.
pub(super) fn check(view: &View, whole: impl Fn(&Placed) -> bool) -> Vec<Violation> {
    let mut stretches: BTreeMap<(usize, u32), Vec<Stave>> = BTreeMap::new();
    for (key, lane) in view.lanes() {
        if lane.iter().any(|placed| placed.blank.staves > 1) {
            let of_stretch = stretches.entry((key.run, key.stretch)).or_default();
            of_stretch.push((key, lane));
        }
    }
    let held = |placed: &Placed| whole(placed) && !view.stood(placed.blank);
    stretches.retain(|_, lanes| lanes.iter().flat_map(|(_, lane)| lane).all(held));
    stretches
        .values()
        .flat_map(|lanes| of_stretch(view, lanes))
        .collect()
}

/// The staves of one stretch, each a row of blanks of one width.
fn of_stretch(view: &View, lanes: &[Stave]) -> Vec<Violation> {
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

/// A whole number of steps, or all the width there is for it.
fn is_plain(view: &View, placed: &Placed) -> bool {
    let step = view.job.settings.glue.step;
    let lies = (placed.blank.low, placed.blank.high);
    placed.width().nm() % step.nm() == 0 || all_width(view, placed) == Some(lies)
}

/// All the width for a blank alone in its section, or alone beside strips that were there before;
/// in such a strip, all of it.
fn all_width(view: &View, placed: &Placed) -> Option<(Length, Length)> {
    let Placed {
        planned, section, ..
    } = *placed;
    let own = &section.strips[placed.at[2]];
    let stood = |strip: &Strip| strip_stood(view, planned, section, strip);
    if stood(own) {
        return Some((own.low, own.high));
    }
    let kerf = view.job.settings.allowances.rip_kerf;
    let (mut low, mut high) = usable_width(view, placed.board, section);
    for (index, strip) in section.strips.iter().enumerate() {
        match index.cmp(&placed.at[2]) {
            Ordering::Equal => continue,
            _ if !stood(strip) => return None,
            Ordering::Less => low = low.max(strip.high + kerf),
            Ordering::Greater => high = high.min(strip.low - kerf),
        }
    }
    Some((low, high))
}
