//! Rule 6 on a board in use: the ends and edges large enough to go back on the rack.

use crate::job::{Crosscut, Job};
use crate::measure::Length;
use crate::plan::{BoardPlan, Kept, Section};

/// The pieces kept of a board cut by these sections, and cut through at these places.
pub(super) fn kept(job: &Job, planned: &BoardPlan, crosscuts: &[Crosscut]) -> Vec<Kept> {
    let mut pieces = Vec::new();
    let Some(shortest) = job.settings.allowances.keep_offcut else {
        return pieces;
    };
    let (first, last) = (planned.sections.first(), planned.sections.last());
    let (Some(first), Some(last)) = (first, last) else {
        return pieces;
    };
    let allow = &job.settings.allowances;
    let board = &job.boards[planned.board];
    let end = |from: Length, to: Length| {
        let spans = cut_through(job, planned, crosscuts, from, to);
        spans.into_iter().map(|(from, to)| Kept {
            from,
            to,
            low: Length::ZERO,
            high: board.width,
        })
    };
    pieces.extend(end(allow.end_trim, first.from - allow.crosscut_kerf));
    for section in &planned.sections {
        for edge in edges(section, allow.rip_kerf, board.width) {
            let spans = cut_through(job, planned, crosscuts, edge.from, edge.to);
            pieces.extend(
                spans
                    .into_iter()
                    .map(|(from, to)| Kept { from, to, ..edge }),
            );
        }
    }
    pieces.extend(end(
        last.to + allow.crosscut_kerf,
        board.length - allow.end_trim,
    ));
    let large = |k: &Kept| {
        let (long, wide) = (k.to - k.from, k.high - k.low);
        long >= shortest && wide >= allow.keep_width && long > Length::ZERO && wide > Length::ZERO
    };
    pieces.retain(large);
    pieces
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
