//! Rule 6 on a board in use: the ends and edges large enough to go back on the rack.

use crate::job::{Crosscut, Job};
use crate::measure::Length;
use crate::plan::{BoardPlan, Kept, Sawn, Section};

/// The pieces kept of a board cut by these sections, and cut into already as `sawn` tells.
///
/// Each length the saw has left is a board of its own in the shop: its ends are kept like those of a
/// board, sawn ones without a trim, and all of it when no section lies on it.
pub(super) fn kept(job: &Job, planned: &BoardPlan, sawn: &Sawn) -> Vec<Kept> {
    let allow = &job.settings.allowances;
    let Some(shortest) = allow.keep_offcut else {
        return Vec::new();
    };
    let board = &job.boards[planned.board];
    let (begins, far) = board.between_trims(allow);
    let mut pieces = Vec::new();
    for (from, to) in lengths_left(job, planned, sawn) {
        let clear = (from.max(begins), to.min(far));
        pieces.extend(ends(planned, clear, allow.crosscut_kerf, board.width));
    }
    for section in &planned.sections {
        for edge in edges(section, allow.rip_kerf, board.width) {
            let spans = cut_through(job, planned, &sawn.crosscuts, edge.from, edge.to);
            let part = |(from, to)| Kept { from, to, ..edge };
            pieces.extend(spans.into_iter().map(part));
        }
    }
    let large = |k: &Kept| {
        let (long, wide) = (k.to - k.from, k.high - k.low);
        long >= shortest && wide >= allow.keep_width && long > Length::ZERO && wide > Length::ZERO
    };
    pieces.retain(large);
    pieces.sort_by_key(|kept| (kept.from, kept.low));
    pieces
}

/// The full-width lengths the saw has left of a board: beside its crosscuts, and beside the sections
/// that are sawn off.
fn lengths_left(job: &Job, planned: &BoardPlan, sawn: &Sawn) -> Vec<(Length, Length)> {
    let kerf = job.settings.allowances.crosscut_kerf;
    let own = (planned.board, planned.copy);
    let sections = planned.sections.iter().map(|s| (s.from, s.to));
    let off: Vec<(Length, Length)> = sections.filter(|&s| sawn.is_off(own, s)).collect();
    let mut lengths = Vec::new();
    let mut at = Length::ZERO;
    for (from, to) in off {
        lengths.push((at, from - kerf));
        at = to + kerf;
    }
    lengths.push((at, job.boards[planned.board].length));
    let cut = |(from, to)| cut_through(job, planned, &sawn.crosscuts, from, to);
    lengths.into_iter().flat_map(cut).collect()
}

/// What lies outside the sections of one length of a board.
fn ends(
    planned: &BoardPlan,
    (from, to): (Length, Length),
    kerf: Length,
    width: Length,
) -> Vec<Kept> {
    let here = |s: &&Section| s.from < to && from < s.to;
    let mut sections = planned.sections.iter().filter(here);
    let whole = |from: Length, to: Length| Kept {
        from,
        to,
        low: Length::ZERO,
        high: width,
    };
    match (sections.next(), sections.next_back()) {
        (None, _) => vec![whole(from, to)],
        (Some(first), last) => {
            let last = last.unwrap_or(first);
            vec![whole(from, first.from - kerf), whole(last.to + kerf, to)]
        }
    }
}

fn edges(section: &Section, kerf: Length, width: Length) -> Vec<Kept> {
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
        along(last.high + kerf, width),
    ]
}

/// A length of a board less the crosscuts through it.
pub(super) fn cut_through(
    job: &Job,
    planned: &BoardPlan,
    crosscuts: &[Crosscut],
    from: Length,
    to: Length,
) -> Vec<(Length, Length)> {
    let kerf = job.settings.allowances.crosscut_kerf;
    let own = |cut: &&Crosscut| (cut.board, cut.copy) == (planned.board, planned.copy);
    let mut cuts: Vec<Length> = crosscuts.iter().filter(own).map(|cut| cut.at).collect();
    cuts.sort_unstable();
    let mut spans = Vec::new();
    let mut at = from;
    for cut in cuts {
        if cut + kerf > at && cut < to {
            spans.push((at, cut));
            at = cut + kerf;
        }
    }
    spans.push((at, to));
    spans.retain(|(from, to)| from < to);
    spans
}
