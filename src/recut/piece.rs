//! A rest as a board of its own, and where that board's corner lies on the measured one.

use crate::job::{Board, Defect, Job};
use crate::measure::{Length, Volume};

use super::rest::{Part, Rest};

impl Rest {
    /// Volume of it that counts as saved while it is kept: without the trim at the board's ends.
    pub(super) fn feet(&self, job: &Job) -> Volume {
        let board = &job.boards[self.board];
        let [hook, far] = board.trims(&job.settings.allowances);
        let mut long = self.to - self.from;
        if self.part == Part::Board {
            let natural = [self.from == Length::ZERO, self.to == board.length];
            for (natural, trim) in natural.into_iter().zip([hook, far]) {
                long -= if natural { trim } else { Length::ZERO };
            }
        }
        job.volume(long.at_least_zero(), self.high - self.low, board.thickness)
    }

    /// Length and width of it less the trims at the board's own ends and edges: no blank in it is
    /// longer or wider.
    pub(super) fn usable(&self, job: &Job) -> (Length, Length) {
        let allow = &job.settings.allowances;
        let board = &job.boards[self.board];
        let (begins, far) = board.between_trims(allow);
        let long = self.to.min(far) - self.from.max(begins);
        let wide = self.high.min(board.width - allow.edge_trim) - self.low.max(allow.edge_trim);
        (long, wide)
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
        // Where the saw has been, the job's trim is what the board was thought longer by.
        let natural = |natural: bool| self.part == Part::Board && natural;
        let own = |own: Option<Length>, end: bool| own.filter(|_| natural(end));
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
            trim_hook: own(board.trim_hook, self.from == Length::ZERO),
            trim_far: own(board.trim_far, self.to == board.length),
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
