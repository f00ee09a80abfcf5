//! The wood left of a board in use, as pieces that can be planned on.

use crate::job::Job;
use crate::measure::Length;
use crate::plan::{BoardPlan, Sawn, Section, Strip};

use super::kept::cut_through;

/// A rectangle of a board in use that nothing lies on.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Rest {
    /// Index into `Job::boards`.
    pub(super) board: usize,
    pub(super) copy: u32,
    /// What it is a part of.
    pub(super) part: Part,
    pub(super) from: Length,
    pub(super) to: Length,
    pub(super) low: Length,
    pub(super) high: Length,
    /// Whether its hook end and its far end are ends of a length of board: what is left there goes
    /// back on the rack when it is large enough.
    pub(super) ends: [bool; 2],
    /// Whether it goes back on the rack when it is not used.
    pub(super) keepable: bool,
    /// Which edge it is, when it is one that goes back on the rack.
    pub(super) edge: Option<Edge>,
}

/// What a rest is a part of, and so how it may be cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    /// A length of the board, its full width: new sections.
    Board,
    /// A width of this section, its full length: new strips.
    Section(usize),
    /// A length of this strip of this section: new blanks.
    Strip(usize, usize),
}

/// All rests of a board, from the hook end and the near edge on; `planned` is all that lies on it.
pub(super) fn rests(job: &Job, planned: &BoardPlan, sawn: &Sawn) -> Vec<Rest> {
    let mut rests = Vec::new();
    for (index, section) in planned.sections.iter().enumerate() {
        rests.extend(widths(job, planned, index, section));
        for (at, strip) in section.strips.iter().enumerate() {
            rests.extend(in_strip(job, planned, sawn, (index, at), section, strip));
        }
    }
    let split = |rest: Rest| {
        let spans = cut_through(job, planned, &sawn.crosscuts, rest.from, rest.to);
        spans.into_iter().map(move |(from, to)| Rest {
            from,
            to,
            ..rest.clone()
        })
    };
    let mut all = lengths(job, planned, sawn);
    all.extend(rests.into_iter().flat_map(split));
    all
}

/// What lies before, between and after the sections, cut through where the board is. Nothing of it
/// lies in the trims of the board's ends but those ends themselves.
fn lengths(job: &Job, planned: &BoardPlan, sawn: &Sawn) -> Vec<Rest> {
    let allow = &job.settings.allowances;
    let board = &job.boards[planned.board];
    let taken: Vec<(Length, Length)> = planned.sections.iter().map(|s| (s.from, s.to)).collect();
    let free = gaps((Length::ZERO, board.length), &taken, allow.crosscut_kerf);
    let spans = free
        .into_iter()
        .flat_map(|(from, to)| cut_through(job, planned, &sawn.crosscuts, from, to));
    let own = (planned.board, planned.copy);
    // A section that is chalked may still be crosscut with what lies beside it.
    let beside_section = |at: Length| {
        let kerf = allow.crosscut_kerf;
        let chalked = taken.iter().filter(|&&section| !sawn.is_off(own, section));
        chalked
            .into_iter()
            .any(|&(from, to)| at == from - kerf || at == to + kerf)
    };
    let (begins, far) = board.between_trims(allow);
    let clear_of_trims = |(from, to): (Length, Length)| {
        let natural = (from == Length::ZERO, to == board.length);
        let from = if natural.0 { from } else { from.max(begins) };
        let to = if natural.1 { to } else { to.min(far) };
        (from, to)
    };
    let rest = |(from, to): (Length, Length)| {
        let ends = [!beside_section(from), !beside_section(to)];
        let (from, to) = clear_of_trims((from, to));
        let clear = to.min(far) - from.max(begins);
        Rest {
            board: planned.board,
            copy: planned.copy,
            part: Part::Board,
            from,
            to,
            low: Length::ZERO,
            high: board.width,
            ends,
            keepable: ends != [false; 2] && is_kept(job, clear, board.width),
            edge: None,
        }
    };
    spans.map(rest).filter(|rest| rest.from < rest.to).collect()
}

/// What lies beside the strips of a section.
fn widths(job: &Job, planned: &BoardPlan, index: usize, section: &Section) -> Vec<Rest> {
    let board = &job.boards[planned.board];
    let taken: Vec<(Length, Length)> = section.strips.iter().map(|s| (s.low, s.high)).collect();
    let free = gaps(
        (Length::ZERO, board.width),
        &taken,
        job.settings.allowances.rip_kerf,
    );
    let of_gap = |(low, high): (Length, Length)| {
        let outer = low == Length::ZERO || high == board.width;
        let keepable = outer && is_kept(job, section.to - section.from, high - low);
        let edge = Edge {
            board: planned.board,
            copy: planned.copy,
            from: section.from,
            near: low == Length::ZERO,
        };
        Rest {
            board: planned.board,
            copy: planned.copy,
            part: Part::Section(index),
            from: section.from,
            to: section.to,
            low,
            high,
            ends: [false; 2],
            keepable,
            edge: keepable.then_some(edge),
        }
    };
    free.into_iter().map(of_gap).collect()
}

/// What lies between the blanks of a strip, good or spoiled.
fn in_strip(
    job: &Job,
    planned: &BoardPlan,
    sawn: &Sawn,
    at: (usize, usize),
    section: &Section,
    strip: &Strip,
) -> Vec<Rest> {
    let here = |p: &&crate::plan::SawnPiece| {
        (p.board, p.copy) == (planned.board, planned.copy)
            && p.section == (section.from, section.to)
            && p.strip == (strip.low, strip.high)
    };
    let lost = sawn
        .pieces
        .iter()
        .filter(here)
        .map(|p| (p.blank.from, p.blank.to));
    let mut taken: Vec<(Length, Length)> = strip.blanks.iter().map(|b| (b.from, b.to)).collect();
    taken.extend(lost);
    taken.sort_unstable();
    let kerf = job.settings.allowances.crosscut_kerf;
    let of_gap = |(from, to): (Length, Length)| Rest {
        board: planned.board,
        copy: planned.copy,
        part: Part::Strip(at.0, at.1),
        from,
        to,
        low: strip.low,
        high: strip.high,
        ends: [false; 2],
        keepable: false,
        edge: None,
    };
    gaps((section.from, section.to), &taken, kerf)
        .into_iter()
        .map(of_gap)
        .collect()
}

/// What is left of `whole` beside the pieces taken, a kerf away from each; in order.
fn gaps(
    whole: (Length, Length),
    taken: &[(Length, Length)],
    kerf: Length,
) -> Vec<(Length, Length)> {
    let mut free = Vec::new();
    let mut at = whole.0;
    for &(from, to) in taken {
        free.push((at, from - kerf));
        at = at.max(to + kerf);
    }
    free.push((at, whole.1));
    free.retain(|(from, to)| from < to);
    free
}

fn is_kept(job: &Job, long: Length, wide: Length) -> bool {
    let allow = &job.settings.allowances;
    allow
        .keep_offcut
        .is_some_and(|keep| long >= keep && wide >= allow.keep_width)
}

/// The edge of a section, by where the section begins and on which side the edge lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Edge {
    pub(super) board: usize,
    pub(super) copy: u32,
    pub(super) from: Length,
    pub(super) near: bool,
}
