//! How nearly a run fits a board in one piece, and what less to trim would make it fit.

use std::cmp::Reverse;

use crate::job::{Board, Defect, Front, Job};
use crate::measure::{Length, Ruler, thickness_sold};
use crate::milling::{
    blank_length, flattening_loss, joint_gap, least_board, stretch_size, thick_enough,
};
use crate::plan::Face;

/// A run cut from one strip of one board.
pub(super) struct Whole<'a> {
    job: &'a Job,
    name: &'a str,
    fronts: Vec<&'a Front>,
    long: Length,
    wide: Length,
}

/// How a run fits a board, the better the lower.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    /// It does; other fronts have the board.
    Taken,
    /// If this much less is trimmed off its ends, or off its edges.
    Trim { all: Length, ends: Length },
    /// Not for its thickness, which lacks this once flat; unknown where only joined pieces fail.
    Thin(Option<Length>),
    /// It is longer or wider than the board by this.
    Over { all: Length, along: Length },
    /// No sound place is long and wide enough.
    Unsound,
}

impl<'a> Whole<'a> {
    pub(super) fn of(job: &'a Job, run: usize) -> Whole<'a> {
        let run = &job.runs[run];
        let fronts: Vec<&Front> = run.fronts.iter().map(|&front| &job.fronts[front]).collect();
        let (long, wide) = stretch_size(&fronts, &job.settings.allowances);
        Whole {
            job,
            name: &run.name,
            fronts,
            long,
            wide,
        }
    }

    /// `row 2 fits E1 if 1/8 in less is trimmed off its ends; or buy ...`
    pub(super) fn told(&self) -> String {
        let boards = self
            .job
            .boards
            .iter()
            .filter(|board| self.may_come_from(board));
        let nearest = boards.map(|board| (self.fit(board), board));
        // Of equals the first in the file.
        let nearest = nearest.min_by_key(|(fit, _)| *fit);
        let near = nearest.map(|(fit, board)| self.nearly(fit, board));
        let near = near.unwrap_or_else(|| format!("{} may come from no board", self.name));
        let least = least_board(&self.fronts, &self.job.settings.allowances);
        format!(
            "{near}; a {} board at least {} wide and {} long would take it",
            thickness_sold(least.thick, self.job.settings.unit),
            self.up(least.wide),
            self.up(least.long),
        )
    }

    fn may_come_from(&self, board: &Board) -> bool {
        self.fronts.iter().all(|front| front.may_come_from(board))
    }

    fn nearly(&self, fit: Fit, board: &Board) -> String {
        let (run, id) = (self.name, &board.id);
        match fit {
            Fit::Taken => format!("{run} fits {id}, but not beside the other fronts"),
            Fit::Trim { all, ends } => {
                let edges = all - ends;
                let off = match (ends > Length::ZERO, edges > Length::ZERO) {
                    (true, true) => format!(
                        "{} less is trimmed off its ends and {} off its edges (end_trim, edge_trim)",
                        self.short(ends),
                        self.short(edges)
                    ),
                    (false, _) => {
                        let less = self.short(edges);
                        format!("{less} less is trimmed off its edges (edge_trim)")
                    }
                    (true, false) => {
                        let less = self.short(ends);
                        format!("{less} less is trimmed off its ends (end_trim)")
                    }
                };
                format!("{run} fits {id} if {off}")
            }
            Fit::Thin(Some(by)) => {
                let by = self.short(by);
                format!("{run} fits {id}, but would be {by} too thin once flat and planed")
            }
            Fit::Thin(None) => format!("{run} fits {id}, but would be too thin once flat"),
            Fit::Over { all, along } => {
                let across = all - along;
                let mut by = Vec::new();
                if along > Length::ZERO {
                    by.push(format!("{} of length", self.up(along)));
                }
                if across > Length::ZERO {
                    by.push(format!("{} of width", self.up(across)));
                }
                format!(
                    "{run} misses {id}, the nearest board, by {}",
                    by.join(" and ")
                )
            }
            Fit::Unsound => format!("{run} finds no sound place on any board: {id} is the nearest"),
        }
    }

    fn fit(&self, board: &Board) -> Fit {
        let over = |need: Length, have: Length| (need - have).at_least_zero();
        let (along, across) = (over(self.long, board.length), over(self.wide, board.width));
        if along + across > Length::ZERO {
            let all = along + across;
            return Fit::Over { all, along };
        }
        let faces = [Face::Up, Face::Down].into_iter();
        let Some((all, ends)) = faces.filter_map(|face| self.least_trim(board, face)).min() else {
            return Fit::Unsound;
        };
        match (self.is_thick_enough(board), all == Length::ZERO) {
            (false, _) => Fit::Thin(self.too_thin_by(board)),
            (true, true) => Fit::Taken,
            (true, false) => Fit::Trim { all, ends },
        }
    }

    /// How much less must be trimmed off the ends and edges, in all and off the ends, at the place
    /// where that is least.
    fn least_trim(&self, board: &Board, face: Face) -> Option<(Length, Length)> {
        let allowances = &self.job.settings.allowances;
        let part = self.long.inches() / board.length.inches();
        let bend = Length::from_inches(board.crook.inches() * part * part / 2.0);
        let clear = allowances.clear;
        let shows = |defect: &&Defect| face.shows(defect.side);
        let defects = || board.defects.iter().filter(shows);
        let along = Axis {
            need: self.long,
            have: board.length,
            trim: allowances.end_trim,
        };
        let across = Axis {
            need: self.wide,
            have: board.width,
            trim: allowances.edge_trim + bend,
        };
        let froms = along.places(defects().map(|d| (d.from - clear, d.to + clear)));
        let lows = across.places(defects().map(|d| (d.low - clear, d.high + clear)));
        let sound = |from: Length, low: Length| {
            !defects().any(|d| {
                from < d.to + clear
                    && d.from - clear < from + self.long
                    && low < d.high + clear
                    && d.low - clear < low + self.wide
            })
        };
        let spots = froms
            .iter()
            .flat_map(|&from| lows.iter().map(move |&low| (from, low)));
        let trims = spots
            .filter(|&(from, low)| sound(from, low))
            .map(|(from, low)| {
                let (ends, edges) = (along.reach_into_trim(from), across.reach_into_trim(low));
                (ends + edges, Reverse(ends))
            });
        trims.min().map(|(all, Reverse(ends))| (all, ends))
    }

    fn is_thick_enough(&self, board: &Board) -> bool {
        let allowances = &self.job.settings.allowances;
        let mut at = Length::ZERO;
        let spans: Vec<(Length, Length)> = self
            .fronts
            .iter()
            .map(|front| {
                let from = at;
                let to = from + blank_length(front, allowances);
                at = to + joint_gap(front, allowances);
                (from, to)
            })
            .collect();
        let (plane, safe) = (allowances.plane, allowances.shortest_safe);
        thick_enough(board, &self.fronts, &spans, self.wide, plane, safe)
    }

    /// What the front that flattening leaves thinnest, each by itself, lacks.
    fn too_thin_by(&self, board: &Board) -> Option<Length> {
        let allowances = &self.job.settings.allowances;
        let lacks = self.fronts.iter().map(|front| {
            let long = blank_length(front, allowances).max(allowances.shortest_safe);
            let left = board.thickness - flattening_loss(board, long, self.wide);
            front.thickness + allowances.plane * 2 - left
        });
        lacks.max().filter(|by| *by > Length::ZERO)
    }

    /// A length to what the job's ruler shows, up: what is told must be enough.
    fn up(&self, length: Length) -> String {
        let ruler = self.job.settings.ruler();
        ruler.show_with_unit(up(ruler, length))
    }

    /// The same without its unit.
    fn short(&self, length: Length) -> String {
        let ruler = self.job.settings.ruler();
        ruler.show(up(ruler, length))
    }
}

fn up(ruler: Ruler, length: Length) -> Length {
    let step = ruler.step();
    let steps = (length.nm() + step.nm() - 1).div_euclid(step.nm());
    step * steps
}

/// One direction of a board, and what is to be placed along it.
struct Axis {
    need: Length,
    have: Length,
    trim: Length,
}

impl Axis {
    /// Where it may lie: inside either trim, at either end of the board, or beside a defect.
    fn places(&self, defects: impl Iterator<Item = (Length, Length)>) -> Vec<Length> {
        let last = self.have - self.need;
        let beside = defects.flat_map(|(from, to)| [to, from - self.need]);
        let ends = [Length::ZERO, self.trim, last - self.trim, last];
        let within = |at: &Length| *at >= Length::ZERO && *at <= last;
        ends.into_iter().chain(beside).filter(within).collect()
    }

    /// How far it reaches into what is trimmed off.
    fn reach_into_trim(&self, from: Length) -> Length {
        let before = self.trim - from;
        let after = from + self.need - (self.have - self.trim);
        before.at_least_zero() + after.at_least_zero()
    }
}
