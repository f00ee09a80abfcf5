//! The wood left of a board in use, as pieces that can be planned on.

use crate::job::{Board, Crosscut, Defect, Job};
use crate::measure::{BoardFeet, Length};
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
    /// Whether it goes back on the rack when it is not used.
    pub(super) keepable: bool,
    /// Whether what is kept of it is counted as the rules count it; else only nearly.
    pub(super) exact: bool,
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
    let mut rests = lengths(job, planned, &sawn.crosscuts);
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
    rests.into_iter().flat_map(split).collect()
}

/// What lies before, between and after the sections.
fn lengths(job: &Job, planned: &BoardPlan, crosscuts: &[Crosscut]) -> Vec<Rest> {
    let allow = &job.settings.allowances;
    let board = &job.boards[planned.board];
    let taken: Vec<(Length, Length)> = planned.sections.iter().map(|s| (s.from, s.to)).collect();
    let mut found = Vec::new();
    let free = gaps((Length::ZERO, board.length), &taken, allow.crosscut_kerf);
    let last = free.len().saturating_sub(1);
    for (index, (from, to)) in free.into_iter().enumerate() {
        // Only an end of the board is kept, not what lies between two sections.
        let end = (index == 0 && from == Length::ZERO) || (index == last && to == board.length);
        for (from, to) in cut_through(job, planned, crosscuts, from, to) {
            let trim = |natural: bool| {
                if natural {
                    allow.end_trim
                } else {
                    Length::ZERO
                }
            };
            let clear = to - from - trim(from == Length::ZERO) - trim(to == board.length);
            let large = is_kept(job, clear, board.width);
            found.push(Rest {
                board: planned.board,
                copy: planned.copy,
                part: Part::Board,
                from,
                to,
                low: Length::ZERO,
                high: board.width,
                keepable: end && large,
                exact: end || !large,
            });
        }
    }
    found
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
        let edge = low == Length::ZERO || high == board.width;
        let keepable = edge && is_kept(job, section.to - section.from, high - low);
        Rest {
            board: planned.board,
            copy: planned.copy,
            part: Part::Section(index),
            from: section.from,
            to: section.to,
            low,
            high,
            keepable,
            exact: !keepable,
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
        keepable: false,
        exact: true,
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

impl Rest {
    /// Board feet of it that count as saved while it is kept: without the trim at the board's ends.
    pub(super) fn feet(&self, job: &Job) -> BoardFeet {
        let board = &job.boards[self.board];
        let trim = job.settings.allowances.end_trim;
        let mut long = self.to - self.from;
        if self.part == Part::Board {
            for natural in [self.from == Length::ZERO, self.to == board.length] {
                long -= if natural { trim } else { Length::ZERO };
            }
        }
        BoardFeet::of_piece(long.at_least_zero(), self.high - self.low, board.thickness)
    }

    /// Where the hook end and the near edge of [`Rest::as_board`] lie on the measured board.
    ///
    /// A fresh saw cut needs no trim. Where the rules take one all the same, the board is thought
    /// to reach that much further.
    pub(super) fn origin(&self, job: &Job) -> (Length, Length) {
        let (from, _, low, _) = self.reach(job);
        (from, low)
    }

    fn reach(&self, job: &Job) -> (Length, Length, Length, Length) {
        let allow = &job.settings.allowances;
        let board = &job.boards[self.board];
        let (trim, edge) = (allow.end_trim, allow.edge_trim);
        let natural_end = |natural: bool| self.part == Part::Board && natural;
        let from = if natural_end(self.from == Length::ZERO) {
            self.from
        } else {
            self.from - trim
        };
        let to = if natural_end(self.to == board.length) {
            self.to
        } else {
            self.to + trim
        };
        if self.part == Part::Board {
            return (from, to, self.low, self.high);
        }
        let natural_edge = |natural: bool| matches!(self.part, Part::Section(_)) && natural;
        // A crooked section loses half its bend at either edge, straightened or not yet.
        let bend = self.bend(board);
        let low = if natural_edge(self.low == Length::ZERO) {
            bend
        } else {
            self.low - edge
        };
        let high = if natural_edge(self.high == board.width) {
            self.high - bend
        } else {
            self.high + edge
        };
        (from, to, low, high)
    }

    fn bend(&self, board: &Board) -> Length {
        let part = (self.to - self.from).inches() / board.length.inches();
        let bend = board.crook.nm() as f64 * part * part / 2.0;
        Length::from_nm(bend.ceil() as i64)
    }

    /// The rest as a board of its own, named like the one it is left of so that fronts that must
    /// come from that one may come from it.
    ///
    /// Warp goes with the size as flattening reckons it: bow with the square of the length, cup
    /// with the square of the width, twist with their product.
    pub(super) fn as_board(&self, job: &Job) -> Board {
        let board = &job.boards[self.board];
        let (from, to, low, high) = self.reach(job);
        let along = (to - from).inches() / board.length.inches();
        let across = (high - low).inches() / board.width.inches();
        let scaled =
            |warp: Length, by: f64| Length::from_nm((warp.nm() as f64 * by).floor() as i64);
        let crook = match self.part {
            Part::Board => scaled(board.crook, along * along),
            Part::Section(_) | Part::Strip(..) => Length::ZERO,
        };
        Board {
            copies: vec![self.copy],
            length: to - from,
            width: high - low,
            bow: scaled(board.bow, along * along),
            cup: scaled(board.cup, across * across),
            twist: scaled(board.twist, along * across),
            crook,
            defects: self.defects(job, (from, to), (low, high)),
            ..board.clone()
        }
    }

    /// The defects that reach the rest or come so near that a blank must keep clear of them.
    fn defects(&self, job: &Job, along: (Length, Length), across: (Length, Length)) -> Vec<Defect> {
        let clear = job.settings.allowances.clear;
        let near = |d: &&Defect| {
            d.from - clear < along.1
                && along.0 < d.to + clear
                && d.low - clear < across.1
                && across.0 < d.high + clear
        };
        let shifted = |d: &Defect| Defect {
            from: d.from - along.0,
            to: d.to - along.0,
            low: d.low - across.0,
            high: d.high - across.0,
            ..d.clone()
        };
        job.boards[self.board]
            .defects
            .iter()
            .filter(near)
            .map(shifted)
            .collect()
    }
}
