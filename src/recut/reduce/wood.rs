//! The boards of the reduced job: whole ones, and what is left of those in use.

use crate::job::{Board, Front, Job};
use crate::layout::{Counts, Part};
use crate::measure::{Length, Volume};

use super::super::rest::{self, Rest, rests};
use super::super::stays::in_use;
use super::{Builder, Origin};

impl Builder<'_> {
    /// Whole boards first, then what is left of those in use.
    pub(super) fn boards(&mut self) {
        let in_use = in_use(self.state.last.plan, self.state.sawn, &self.decided.stays);
        for (index, board) in self.state.job.boards.iter().enumerate() {
            let taken = |copy: &u32| in_use.iter().any(|b| (b.board, b.copy) == (index, *copy));
            let copies: Vec<u32> = board.copies.iter().copied().filter(|c| !taken(c)).collect();
            if !copies.is_empty() {
                let board = Board {
                    copies,
                    ..board.clone()
                };
                self.add_board(board, Origin::Whole(index), None);
            }
        }
        let least = self.least_blank();
        for planned in &in_use {
            for rest in rests(self.state.job, planned, self.state.sawn) {
                let rest = self.as_far_as_used(rest);
                if rest.to - rest.from >= least.0 && rest.high - rest.low >= least.1 {
                    self.add_rest(rest, least.1);
                }
            }
        }
    }

    /// No blank or stave of a front still to be planned is shorter or narrower than this.
    fn least_blank(&self) -> (Length, Length) {
        let job = self.state.job;
        let allow = &job.settings.allowances;
        let free = || {
            let fronts = job.fronts.iter().enumerate();
            fronts.filter(|(f, _)| !self.is_there(*f)).map(|(_, f)| f)
        };
        let wide = |front: &Front| {
            let whole = front.across() + allow.rough_width;
            if front.glue {
                whole.min(job.settings.glue.least_stave)
            } else {
                whole
            }
        };
        let long = free().map(|front| front.along() + allow.rough_length).min();
        let wide = free().map(wide).min();
        (long.unwrap_or_default(), wide.unwrap_or_default())
    }

    /// An edge of which only so much may be used is no wider than that.
    fn as_far_as_used(&self, mut rest: Rest) -> Rest {
        let span = rest.edge.and_then(|edge| self.decided.edges.get(&edge));
        match (rest.edge, span) {
            (Some(edge), Some(&(_, most))) if edge.near => {
                rest.low = rest.low.max(rest.high - most)
            }
            (Some(_), Some(&(_, most))) => rest.high = rest.high.min(rest.low + most),
            _ => {}
        }
        rest
    }

    /// The wood of a board in use is spent, but for what would go back on the rack.
    fn add_rest(&mut self, rest: Rest, narrowest: Length) {
        let job = self.state.job;
        let nothing = Volume::new(0.0);
        let (whole, kept) = match rest.part {
            rest::Part::Strip(..) => (nothing, false),
            rest::Part::Section(_) => (self.edge_feet(&rest, narrowest), false),
            rest::Part::Board if rest.keepable => (rest.feet(job), true),
            rest::Part::Board => (nothing, true),
        };
        let counts = Counts {
            part: match rest.part {
                rest::Part::Board => Part::Board,
                rest::Part::Section(_) => Part::Section,
                rest::Part::Strip(..) => Part::Strip,
            },
            whole,
            kept,
            ends: rest.ends,
            price: false,
        };
        self.add_board(rest.as_board(job), Origin::Rest(rest), Some(counts));
    }

    /// What using as little of an edge as may be takes from the rack.
    fn edge_feet(&self, rest: &Rest, narrowest: Length) -> Volume {
        let job = self.state.job;
        let Some(edge) = rest.edge else {
            return Volume::new(0.0);
        };
        let least = self.decided.edges.get(&edge).map(|&(least, _)| least);
        edge_taken(job, rest, least.unwrap_or_default().max(narrowest))
    }
}

/// Board feet of an edge that do not go back on the rack when `used` of its width is, counted from
/// the strips beside it.
pub(in super::super) fn edge_taken(job: &Job, rest: &Rest, used: Length) -> Volume {
    let allow = &job.settings.allowances;
    let board = &job.boards[rest.board];
    let near = rest.edge.is_some_and(|edge| edge.near);
    let wide = if near {
        rest.high
    } else {
        board.width - rest.low
    };
    let left = wide - used - allow.rip_kerf;
    let kept = if left >= allow.keep_width && left > Length::ZERO {
        left
    } else {
        Length::ZERO
    };
    job.volume(rest.to - rest.from, wide - kept, board.thickness)
}
