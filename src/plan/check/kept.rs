//! Rule 6: what is kept is just what is large enough to go back on the rack.

use super::view::View;
use super::{Rule, Violation};
use crate::measure::Length;
use crate::plan::{BoardPlan, Kept, Section};

/// Pieces listed that are none, and pieces left out.
pub(super) fn check(view: &View) -> Vec<Violation> {
    let mut found = Vec::new();
    for planned in &view.plan.boards {
        let mut faults = Vec::new();
        let due = large_enough(view, planned);
        for (index, kept) in planned.kept.iter().enumerate() {
            let twice = planned.kept[..index].contains(kept);
            if twice || !due.contains(kept) {
                faults.push(format!("{} is not a piece to keep", name(view, kept)));
            }
        }
        let missed = due.iter().filter(|piece| !planned.kept.contains(piece));
        faults.extend(missed.map(|piece| format!("{} is worth keeping", name(view, piece))));
        found.extend(
            faults
                .into_iter()
                .map(|text| view.on_board(Rule::Kept, planned, text)),
        );
    }
    found
}

fn name(view: &View, k: &Kept) -> String {
    let [from, to, low, high] = [k.from, k.to, k.low, k.high].map(|l| view.show(l));
    format!("{from} to {to} by {low} to {high}")
}

/// The ends and edges of a board at least the least sizes.
fn large_enough(view: &View, planned: &BoardPlan) -> Vec<Kept> {
    let allow = &view.job.settings.allowances;
    let Some(shortest) = allow.keep_offcut else {
        return Vec::new();
    };
    let mut pieces = ends(view, planned);
    pieces.extend(
        planned
            .sections
            .iter()
            .flat_map(|s| edges(view, planned, s)),
    );
    pieces.retain(|k| {
        k.to - k.from >= shortest
            && k.high - k.low >= allow.keep_width
            && k.to > k.from
            && k.high > k.low
    });
    pieces
}

/// What lies outside the sections at either end, over the full width: without the end's trim
/// and a kerf.
fn ends(view: &View, planned: &BoardPlan) -> Vec<Kept> {
    let allow = &view.job.settings.allowances;
    let board = view.kind(planned);
    let (Some(first), Some(last)) = (planned.sections.first(), planned.sections.last()) else {
        return Vec::new();
    };
    let across = |from: Length, to: Length| Kept {
        from,
        to,
        low: Length::ZERO,
        high: board.width,
    };
    vec![
        across(allow.end_trim, first.from - allow.crosscut_kerf),
        across(last.to + allow.crosscut_kerf, board.length - allow.end_trim),
    ]
}

/// What lies outside the strips at either edge of a section, over its full length: without a
/// kerf, but with the edge as it is.
fn edges(view: &View, planned: &BoardPlan, section: &Section) -> Vec<Kept> {
    let kerf = view.job.settings.allowances.rip_kerf;
    let (Some(first), Some(last)) = (section.strips.first(), section.strips.last()) else {
        return Vec::new();
    };
    let along = |low: Length, high: Length| Kept {
        from: section.from,
        to: section.to,
        low,
        high,
    };
    vec![
        along(Length::ZERO, first.low - kerf),
        along(last.high + kerf, view.kind(planned).width),
    ]
}
