//! Which blanks of a strip leave it as one piece, and stay joined until that is flat.

use super::board::sawn_from;
use crate::job::Job;
use crate::measure::Length;
use crate::milling::{flat_enough, milled_together};
use crate::plan::{Blank, BoardPlan, Sawn, Section, Strip};

/// A piece as it leaves its strip and is flattened: consecutive blanks of a stretch, and waste
/// where they are too short without.
#[derive(Clone, Debug, PartialEq)]
pub struct Joined<'a> {
    /// Its blanks, from the hook end on.
    pub blanks: Vec<&'a Blank>,
    /// Where it starts along the board.
    pub from: Length,
    /// Where it ends along the board.
    pub to: Length,
    /// Whether the saw has made its two ends already, or will with the section's.
    pub ends_made: [bool; 2],
    /// Whether it is cut from its strip already.
    pub cut: bool,
}

impl Joined<'_> {
    /// How long it is.
    pub fn long(&self) -> Length {
        self.to - self.from
    }

    /// Across the board, from the lowest edge of its blanks to the highest.
    pub fn across(&self) -> (Length, Length) {
        let low = self.blanks.iter().map(|blank| blank.low).min();
        let high = self.blanks.iter().map(|blank| blank.high).max();
        (low.unwrap_or_default(), high.unwrap_or_default())
    }

    /// Whether waste goes with its blanks through the machines.
    pub fn has_waste(&self) -> bool {
        let ends = self.blanks.first().zip(self.blanks.last());
        ends.is_some_and(|(first, last)| self.from < first.from || last.to < self.to)
    }

    /// Whether it must be cut apart, or waste cut from it, once it is flat.
    pub fn is_cut_apart(&self) -> bool {
        self.blanks.len() > 1 || self.has_waste()
    }
}

/// The pieces of a strip, from the hook end on.
pub(super) fn pieces<'a>(
    job: &Job,
    cut: &BoardPlan,
    section: &Section,
    strip: &'a Strip,
    sawn: Option<&Sawn>,
) -> Vec<Joined<'a>> {
    let ground = Ground::of(job, cut, section, strip, sawn);
    let key = |blank: &Blank| {
        let (run, _) = job.place_of(blank.front);
        (run, blank.stretch, blank.stave, is_cut(sawn, blank))
    };
    let together =
        |a: &Blank, b: &Blank| key(a) == key(b) && ground.is_whole(a.to, b.from, is_cut(sawn, a));
    let stretches = strip.blanks.chunk_by(together);
    let groups: Vec<&[Blank]> = stretches
        .flat_map(|stretch| split(job, cut, stretch))
        .collect();
    let safe = job.settings.allowances.shortest_safe;
    let kerf = job.settings.allowances.crosscut_kerf;
    let mut found: Vec<Joined> = Vec::new();
    for (index, group) in groups.iter().enumerate() {
        let next = groups.get(index + 1);
        let taken = found.last().map(|piece| piece.to + kerf);
        let room = ground.around(group, taken, next.map(|next| next[0].from - kerf));
        let next_is_short = next.is_some_and(|next| span(next) < safe);
        let (from, to) = ends(group, room, safe, next_is_short);
        let cut = is_cut(sawn, &group[0]);
        found.push(Joined {
            blanks: group.iter().collect(),
            from,
            to,
            ends_made: [from, to].map(|at| cut || ground.is_made(at)),
            cut,
        });
    }
    found
}

fn is_cut(sawn: Option<&Sawn>, blank: &Blank) -> bool {
    let is = |b: &Blank| (b.front, b.stave) == (blank.front, blank.stave);
    sawn.is_some_and(|sawn| sawn.standing().any(|piece| is(&piece.blank)))
}

fn span(blanks: &[Blank]) -> Length {
    match (blanks.first(), blanks.last()) {
        (Some(first), Some(last)) => last.to - first.from,
        _ => Length::ZERO,
    }
}

/// A stretch parted as it is milled: into the most pieces that are long enough and stay thick
/// enough.
fn split<'a>(job: &Job, cut: &BoardPlan, stretch: &'a [Blank]) -> Vec<&'a [Blank]> {
    let allowances = &job.settings.allowances;
    let board = &job.boards[cut.board];
    let spans: Vec<(Length, Length)> = stretch.iter().map(|b| (b.from, b.to)).collect();
    let fits = |first: usize, last: usize, long| {
        let blanks = stretch[first..=last].iter();
        let mut each = blanks.map(|blank| (&job.fronts[blank.front], blank.high - blank.low));
        each.all(|(front, wide)| flat_enough(board, front, allowances.plane, long, wide))
    };
    match milled_together(&spans, allowances.shortest_safe, fits) {
        Some(milled) => milled
            .iter()
            .map(|piece| &stretch[piece.first..=piece.last])
            .collect(),
        None => vec![stretch],
    }
}

/// Where a piece starts and ends: at its blanks', or with as much waste as makes it long enough.
///
/// The waste is taken on the far side where there is enough, unless the next piece needs that too:
/// then as near the hook end as can be, which leaves the most for the next.
fn ends(
    group: &[Blank],
    room: (Length, Length),
    safe: Length,
    next_is_short: bool,
) -> (Length, Length) {
    let (first, last) = (group[0].from, group[group.len() - 1].to);
    if last - first >= safe {
        return (first, last);
    }
    let wish = match next_is_short {
        true => last - safe,
        false => first.min(room.1 - safe),
    };
    let from = wish.max(room.0).min(first);
    let to = (from + safe).min(room.1).max(last);
    (from, to)
}

/// What the saw leaves of a strip.
struct Ground {
    ends: (Length, Length),
    /// Wood that is gone or cut off, kerfs included.
    gone: Vec<(Length, Length)>,
    /// The part of it that no piece can reach over: what was spoiled, and crosscuts.
    lost: Vec<(Length, Length)>,
}

impl Ground {
    fn of(
        job: &Job,
        cut: &BoardPlan,
        section: &Section,
        strip: &Strip,
        sawn: Option<&Sawn>,
    ) -> Ground {
        let kerf = job.settings.allowances.crosscut_kerf;
        let here = ((section.from, section.to), (strip.low, strip.high));
        let blanks = sawn_from(cut, sawn)
            .filter(|piece| (piece.section, piece.strip) == here)
            .map(|piece| {
                let span = (piece.blank.from - kerf, piece.blank.to + kerf);
                (span, piece.stands())
            });
        let crosscuts = sawn.into_iter().flat_map(|sawn| &sawn.crosscuts);
        let through = crosscuts
            .filter(|c| (c.board, c.copy) == (cut.board, cut.copy))
            .map(|c| ((c.at, c.at + kerf), false));
        let all: Vec<((Length, Length), bool)> = blanks.chain(through).collect();
        let lost = all.iter().filter(|(_, stands)| !stands);
        Ground {
            ends: (section.from, section.to),
            gone: all.iter().map(|(span, _)| *span).collect(),
            lost: lost.map(|(span, _)| *span).collect(),
        }
    }

    /// Whether the wood between two neighbours, both cut or neither, holds them together.
    fn is_whole(&self, from: Length, to: Length, cut: bool) -> bool {
        let between = |gone: &(Length, Length)| gone.0 < to && from < gone.1;
        let apart = if cut { &self.lost } else { &self.gone };
        !apart.iter().any(between)
    }

    /// How far the wood around some blanks reaches that no other piece takes.
    fn around(
        &self,
        group: &[Blank],
        taken: Option<Length>,
        next: Option<Length>,
    ) -> (Length, Length) {
        let (first, last) = (group[0].from, group[group.len() - 1].to);
        let before = self
            .gone
            .iter()
            .map(|gone| gone.1)
            .filter(|to| *to <= first);
        let after = self
            .gone
            .iter()
            .map(|gone| gone.0)
            .filter(|from| *from >= last);
        let low = before.chain(taken).fold(self.ends.0, Length::max);
        let high = after.chain(next).fold(self.ends.1, Length::min);
        (low.min(first), high.max(last))
    }

    /// Whether an end that lies here needs no cut of its own.
    fn is_made(&self, at: Length) -> bool {
        let edges = self.gone.iter().flat_map(|gone| [gone.0, gone.1]);
        at == self.ends.0 || at == self.ends.1 || edges.into_iter().any(|edge| edge == at)
    }
}
