//! Rule 6: what is kept is just what is large enough to go back on the rack.

use super::cuts::between_trims;
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

/// What lies outside the sections at either end of each length the board is in now, over the full
/// width, less a kerf; without the end trim at the board's own ends, while a sawn end needs none.
fn ends(view: &View, planned: &BoardPlan) -> Vec<Kept> {
    let allow = &view.job.settings.allowances;
    let board = view.kind(planned);
    let (begins, ends) = between_trims(view, board);
    let mut pieces = Vec::new();
    for (from, to) in lengths(view, planned) {
        let mut add = |from: Length, to: Length| {
            pieces.push(Kept {
                from: from.max(begins),
                to: to.min(ends),
                low: Length::ZERO,
                high: board.width,
            })
        };
        let within = |s: &&Section| s.from < to && from < s.to;
        let first = planned.sections.iter().find(within);
        let last = planned.sections.iter().rfind(within);
        match (first, last) {
            (Some(first), Some(last)) => {
                add(from, first.from - allow.crosscut_kerf);
                add(last.to + allow.crosscut_kerf, to);
            }
            _ => add(from, to),
        }
    }
    pieces
}

/// The full-width lengths a board is in: all of it, less the sections that are sawn off and the
/// kerfs of every crosscut through it.
fn lengths(view: &View, planned: &BoardPlan) -> Vec<(Length, Length)> {
    let kerf = view.job.settings.allowances.crosscut_kerf;
    let mut gone = crosscuts(view, planned);
    let sections = planned.sections.iter().map(|s| (s.from, s.to));
    let board = (planned.board, planned.copy);
    let off = |s: &(Length, Length)| view.sawn.is_some_and(|sawn| sawn.is_off(board, *s));
    gone.extend(
        sections
            .filter(off)
            .map(|(from, to)| (from - kerf, to + kerf)),
    );
    less((Length::ZERO, view.kind(planned).length), gone)
}

/// The kerfs of the crosscuts through a board.
fn crosscuts(view: &View, planned: &BoardPlan) -> Vec<(Length, Length)> {
    let kerf = view.job.settings.allowances.crosscut_kerf;
    let all = view.sawn.into_iter().flat_map(|sawn| &sawn.crosscuts);
    let own = all.filter(|cut| (cut.board, cut.copy) == (planned.board, planned.copy));
    own.map(|cut| (cut.at, cut.at + kerf)).collect()
}

/// What is left of a span, in order.
fn less(whole: (Length, Length), mut gone: Vec<(Length, Length)>) -> Vec<(Length, Length)> {
    gone.sort_unstable();
    let mut left = Vec::new();
    let mut at = whole.0;
    for (from, to) in gone {
        left.push((at, from.min(whole.1)));
        at = at.max(to);
    }
    left.push((at, whole.1));
    left.retain(|(from, to)| from < to);
    left
}

/// What lies outside the strips at either edge of a section, over its full length (or over what a
/// crosscut through it leaves): without a kerf, but with the edge as it is.
fn edges(view: &View, planned: &BoardPlan, section: &Section) -> Vec<Kept> {
    let kerf = view.job.settings.allowances.rip_kerf;
    let (Some(first), Some(last)) = (section.strips.first(), section.strips.last()) else {
        return Vec::new();
    };
    let across = [
        (Length::ZERO, first.low - kerf),
        (last.high + kerf, view.kind(planned).width),
    ];
    let spans = less((section.from, section.to), crosscuts(view, planned));
    let along = |(low, high): (Length, Length)| {
        let piece = move |&(from, to): &(Length, Length)| Kept {
            from,
            to,
            low,
            high,
        };
        spans.iter().map(piece).collect::<Vec<Kept>>()
    };
    across.into_iter().flat_map(along).collect()
}
