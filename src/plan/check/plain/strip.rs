//! A strip as its stretches lie in it, pushed to one side.

use super::super::defects::shows;
use super::super::thickness::longest_flat;
use super::super::view::{Placed, View};
use super::groups::groupings;
use super::row::{Group, Piece, Row};
use crate::job::Between;
use crate::measure::Length;
use crate::plan::{End, SawnPiece};

/// The side the blanks of a strip are pushed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Hook,
    Far,
}

/// A strip seen from one side: its stretches in order from there, distances counted from the hook
/// end, or counted negative from it when the side is the far one.
pub(super) struct Lane {
    stretches: Vec<Stretch>,
    safe: Length,
    kerf: Length,
}

struct Stretch {
    /// It lay there before the plan was made.
    stood: Option<Stood>,
    row: Row,
    groupings: Vec<Vec<Group>>,
    /// Where its blanks start in the plan.
    starts: Vec<Length>,
}

/// What was there before.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stood {
    /// Cut from its strip, or lost.
    Cut,
    /// Chalked.
    Chalk,
}

/// How one stretch can lie nearest the side: the starts of its blanks, and where the strip is free
/// again.
struct Spot {
    starts: Vec<Length>,
    free: Length,
}

impl Side {
    /// The other one.
    pub(super) fn other(self) -> Side {
        match self {
            Side::Hook => Side::Far,
            Side::Far => Side::Hook,
        }
    }

    /// A span along the board, nearer end first.
    pub(super) fn span(self, (from, to): (Length, Length)) -> (Length, Length) {
        match self {
            Side::Hook => (from, to),
            Side::Far => (-to, -from),
        }
    }
}

impl Lane {
    /// The blanks of one strip, from the hook end on, seen from a side.
    pub(super) fn new(view: &View, strip: &[Placed], side: Side) -> Lane {
        let allow = &view.job.settings.allowances;
        let mut stretches: Vec<Stretch> = strip
            .chunk_by(|a, b| view.lane_of(a.blank) == view.lane_of(b.blank))
            .map(|blanks| Stretch::new(view, blanks, side))
            .collect();
        stretches.extend(lost(view, strip, side));
        stretches.sort_by_key(|stretch| stretch.starts.first().copied());
        Lane {
            stretches,
            safe: allow.shortest_safe,
            kerf: allow.crosscut_kerf,
        }
    }

    /// How near the side the strip can end that begins at `from`; nothing when it can't lie within
    /// `limit`.
    pub(super) fn least_end(&self, from: Length, limit: Length) -> Option<Length> {
        let last = self.spots(from, limit)?.pop()?;
        Some(last.free - self.kerf)
    }

    /// Where the blanks start, stretch by stretch, when all lie as near the side as may be.
    pub(super) fn nearest(&self, from: Length, limit: Length) -> Option<Vec<Vec<Length>>> {
        let spots = self.spots(from, limit)?;
        Some(spots.into_iter().map(|spot| spot.starts).collect())
    }

    fn spots(&self, from: Length, limit: Length) -> Option<Vec<Spot>> {
        let mut free = from;
        let spot = |at: usize| {
            let ways = self.ways(at, free, limit).into_iter();
            let nearest = ways.min_by_key(|way| way.free)?;
            free = nearest.free;
            Some(nearest)
        };
        (0..self.stretches.len()).map(spot).collect()
    }

    /// Every way a stretch can lie nearest the side, the strip being free from `free` on.
    fn ways(&self, at: usize, free: Length, limit: Length) -> Vec<Spot> {
        let stretch = &self.stretches[at];
        let end = stretch.row.end(&stretch.starts);
        match stretch.stood {
            Some(Stood::Cut) => vec![stretch.where_it_is(free.max(end + self.kerf))],
            Some(Stood::Chalk) => {
                vec![stretch.where_it_is(self.set_aside(free, end) + self.kerf)]
            }
            None => self.new_ways(at, free, self.limit(at, limit)),
        }
    }

    /// How far a stretch may reach: to the next one that was there before, or the section's end.
    fn limit(&self, at: usize, limit: Length) -> Length {
        let later = self.stretches[at..].iter();
        let mut stood = later.filter(|stretch| stretch.stood.is_some());
        let next = stood.next().and_then(|next| next.starts.first());
        next.map_or(limit, |&start| limit.min(start - self.kerf))
    }

    fn new_ways(&self, at: usize, free: Length, limit: Length) -> Vec<Spot> {
        let stretch = &self.stretches[at];
        let lie = |groups: &Vec<Group>| {
            let starts = stretch.row.nearest(groups, free, limit)?;
            let end = self.set_aside(free, stretch.row.end(&starts));
            (end <= limit).then_some(Spot {
                starts,
                free: end + self.kerf,
            })
        };
        stretch.groupings.iter().filter_map(lie).collect()
    }

    /// How far a stretch that ends at `end` keeps its strip: at least the shortest safe length,
    /// as near the side as may be.
    fn set_aside(&self, free: Length, end: Length) -> Length {
        free.max(end - self.safe) + self.safe
    }

    /// Whether every blank lies where pushing it to the side leaves it, in the section `from` to
    /// `limit`.
    pub(super) fn is_pushed(&self, from: Length, limit: Length) -> bool {
        let mut free = from;
        (0..self.stretches.len()).all(|at| {
            let mut ways = self.ways(at, free, limit).into_iter();
            let lies = ways.find(|way| way.starts == self.stretches[at].starts);
            free = lies.as_ref().map_or(free, |way| way.free);
            lies.is_some()
        })
    }

    /// Whether a blank with no slack between it and the end at `from` stands just clear of a defect:
    /// where the plan has it, or where it lies when pushed to that end. No slack is between them
    /// when it could lie no nearer the end on sound wood.
    pub(super) fn stands_at_defect(&self, from: Length, limit: Length) -> bool {
        let Some(pushed) = self.nearest(from, limit) else {
            return false;
        };
        let mut free = from;
        for (stretch, pushed) in self.stretches.iter().zip(&pushed) {
            let on_sound_wood = stretch.on_sound_wood(free);
            let stands = |sound: &Vec<Length>| {
                stretch.stands_at_defect(sound, pushed)
                    || stretch.stands_at_defect(sound, &stretch.starts)
            };
            if on_sound_wood.iter().any(stands) {
                return true;
            }
            let ends = on_sound_wood.iter().map(|starts| stretch.row.end(starts));
            let Some(end) = ends.min() else {
                return false;
            };
            free = self.set_aside(free, end) + self.kerf;
        }
        false
    }
}

impl Stretch {
    fn new(view: &View, blanks: &[Placed], side: Side) -> Stretch {
        let mut blanks = blanks.to_vec();
        let mut gaps: Vec<_> = blanks.windows(2).map(|pair| gap(view, pair)).collect();
        if side == Side::Far {
            blanks.reverse();
            gaps.reverse();
        }
        let row = Row {
            pieces: blanks
                .iter()
                .map(|placed| piece(view, placed, side))
                .collect(),
            gaps,
        };
        let most: Vec<Length> = blanks.iter().map(|p| longest_flat(view, p)).collect();
        let span = |placed: &Placed| side.span((placed.blank.from, placed.blank.to));
        let stood = blanks.iter().any(|placed| view.stood(placed.blank));
        let all_cut = blanks.iter().all(|placed| view.is_cut(placed.blank));
        Stretch {
            stood: stood.then_some(if all_cut { Stood::Cut } else { Stood::Chalk }),
            groupings: groupings(&row, &most, view.job.settings.allowances.shortest_safe),
            starts: blanks.iter().map(|placed| span(placed).0).collect(),
            row,
        }
    }

    fn where_it_is(&self, free: Length) -> Spot {
        Spot {
            starts: self.starts.clone(),
            free,
        }
    }

    fn on_sound_wood(&self, free: Length) -> Vec<Vec<Length>> {
        let lie = |groups: &Vec<Group>| self.row.nearest_on_sound_wood(groups, free);
        self.groupings.iter().filter_map(lie).collect()
    }

    /// Whether one of these starts is the sound one and lies at an end of what is blocked.
    fn stands_at_defect(&self, sound: &[Length], starts: &[Length]) -> bool {
        let at_defect = |(piece, start): (&Piece, &Length)| {
            piece.blocked.iter().any(|b| b.0 == *start || b.1 == *start)
        };
        let stands = self.row.pieces.iter().zip(starts).zip(sound);
        stands
            .into_iter()
            .any(|((piece, start), sound)| start == sound && at_defect((piece, start)))
    }
}

/// The pieces cut from a strip and lost, each as a stretch that was there.
fn lost(view: &View, strip: &[Placed], side: Side) -> Vec<Stretch> {
    let Some(first) = strip.first() else {
        return Vec::new();
    };
    let own = &first.section.strips[first.at[2]];
    let here = |p: &&SawnPiece| {
        !p.stands()
            && (p.board, p.copy) == (first.planned.board, first.planned.copy)
            && p.section == (first.section.from, first.section.to)
            && p.strip == (own.low, own.high)
    };
    let pieces = view.sawn.into_iter().flat_map(|sawn| &sawn.pieces);
    let stretch = |lost: &SawnPiece| {
        let (from, to) = side.span((lost.blank.from, lost.blank.to));
        Stretch {
            stood: Some(Stood::Cut),
            row: Row {
                pieces: vec![Piece {
                    long: to - from,
                    blocked: Vec::new(),
                }],
                gaps: Vec::new(),
            },
            groupings: Vec::new(),
            starts: vec![from],
        }
    };
    pieces.into_iter().filter(here).map(stretch).collect()
}

/// Least and widest gap between neighbours of a stretch, the one nearer the hook end first.
fn gap(view: &View, pair: &[Placed]) -> (Length, Option<Length>) {
    let allow = &view.job.settings.allowances;
    let before_in_run = match pair[0].blank.left {
        End::Hook => &pair[0],
        End::Far => &pair[1],
    };
    let built = match allow.between {
        Between::Tight => Length::ZERO,
        Between::AsBuilt => before_in_run.front.space_after.unwrap_or_default(),
    };
    let least = allow.crosscut_kerf.max(built - allow.rough_length);
    let most = allow.longest_skip - allow.rough_length;
    (least, (!before_in_run.front.alike).then_some(most))
}

fn piece(view: &View, placed: &Placed, side: Side) -> Piece {
    let clear = view.job.settings.allowances.clear;
    let (blank, long) = (placed.blank, placed.length());
    let must_clear = placed.board.defects.iter().filter(|d| {
        shows(d.side, blank.face) && blank.low < d.high + clear && d.low - clear < blank.high
    });
    let blocked = must_clear.map(|d| {
        let (from, to) = side.span((d.from, d.to));
        (from - clear - long, to + clear)
    });
    Piece {
        long,
        blocked: blocked.collect(),
    }
}
