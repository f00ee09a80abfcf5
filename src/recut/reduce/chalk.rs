//! What chalk that is not decided on counts, and how unlike its neighbours' each board is.

use std::collections::BTreeSet;

use crate::layout::Chalk;
use crate::plan::{BoardPlan, placed};

use super::super::partner::{mismatches, partner};
use super::super::rest::rests;
use super::super::stays::{Fronts, occupied};
use super::{Builder, Origin, State};

impl Builder<'_> {
    /// Where each front is chalked now, what moves in any case, and how unlike each board is.
    pub(super) fn chalk(&mut self) {
        let open: Fronts = (self.state.held.iter().copied())
            .filter(|f| !self.decided.stays.contains(f) && !self.decided.goes.contains(f))
            .collect();
        let homes = self.reduced.fronts.iter().map(|front| {
            let open = front.filter(|f| open.contains(f));
            open.and_then(|f| self.home(f))
        });
        let homes: Vec<Option<usize>> = homes.collect();
        let unlike = self.reduced.fronts.iter().map(|front| match front {
            Some(front) if !self.state.held.contains(front) => self.unlike(*front),
            _ => Vec::new(),
        });
        self.reduced.history.unlike = unlike.collect();
        self.reduced.history.home = homes;
        self.reduced.history.chalk = self.ways_to_stay(&open);
        let worth = &self.state.job.settings.worth;
        let moved = worth.moved * self.decided.goes.len() as f64;
        let joined = worth.unbroken * self.joins(&open) as f64;
        self.reduced.base += (moved - joined) * self.price;
    }

    /// Every row of neighbours among the open chalk, and what room it leaves when it stays. Glued
    /// fronts are left out.
    fn ways_to_stay(&self, open: &Fronts) -> Vec<Chalk> {
        let place = |&front: &usize| {
            let (.., blank) = placed(self.state.last.plan).find(|(.., b)| b.front == front)?;
            let home = self.home_of(front).filter(|_| open.contains(&front))?;
            (blank.staves == 1).then_some((blank.stretch, home))
        };
        let mut ways = Vec::new();
        for run in &self.state.job.runs {
            for row in run.fronts.chunk_by(|a, b| place(a) == place(b)) {
                let Some((_, board)) = place(&row[0]) else {
                    continue;
                };
                for from in 0..row.len() {
                    let ends = from..row.len();
                    ways.extend(ends.map(|to| self.way_to_stay(&row[from..=to], board)));
                }
            }
        }
        ways
    }

    fn way_to_stay(&self, fronts: &[usize], board: usize) -> Chalk {
        let State {
            job, last, sawn, ..
        } = self.state;
        let mut stays = self.decided.stays.clone();
        stays.extend(fronts);
        let bears = |b: &&BoardPlan| {
            let mut blanks = b
                .sections
                .iter()
                .flat_map(|s| &s.strips)
                .flat_map(|s| &s.blanks);
            blanks.any(|blank| blank.front == fronts[0])
        };
        let in_use = occupied(last.plan, sawn, &stays);
        let free = in_use.iter().filter(bears);
        let free = free.flat_map(|planned| rests(job, planned, sawn));
        let origin = &self.reduced.origin[board];
        Chalk {
            fronts: (fronts.iter())
                .filter_map(|&front| self.reduced.front(front))
                .collect(),
            board,
            room: free
                .filter(|rest| origin.holds(rest))
                .map(|rest| rest.usable(job))
                .collect(),
        }
    }

    fn home_of(&self, front: usize) -> Option<usize> {
        let at = self.reduced.front(front)?;
        self.reduced.history.home[at]
    }

    /// How many breaks beside what is cut would not be there if all open chalk stayed: chalk set
    /// free is not known to lie in the stretch of its cut neighbours. More chalk staying joins no
    /// fewer, so this is enough for any of it.
    fn joins(&self, open: &Fronts) -> usize {
        let begun = begun_stretches(self, open);
        let there: Fronts = (0..self.state.job.fronts.len())
            .filter(|&f| self.is_there(f))
            .collect();
        let all: Fronts = there.union(&begun).copied().collect();
        self.stretches(&there) + begun.len() - self.stretches(&all)
    }

    /// Stretches of the last plan as far as only these fronts are left of them.
    fn stretches(&self, fronts: &Fronts) -> usize {
        let runs = self.state.job.runs.iter();
        runs.map(|run| {
            let keys: Vec<Option<u32>> = (run.fronts.iter())
                .map(|&f| {
                    fronts
                        .contains(&f)
                        .then(|| self.chalked_stretch(f))
                        .flatten()
                })
                .collect();
            let begins =
                |at: &usize| keys[*at].is_some() && (*at == 0 || keys[*at - 1] != keys[*at]);
            (0..keys.len()).filter(begins).count()
        })
        .sum()
    }

    fn chalked_stretch(&self, front: usize) -> Option<u32> {
        placed(self.state.last.plan)
            .find(|(.., blank)| blank.front == front)
            .map(|(.., blank)| blank.stretch)
    }

    /// The board of the reduced job a front is chalked on.
    fn home(&self, front: usize) -> Option<usize> {
        let (planned, _, _, blank) =
            placed(self.state.last.plan).find(|(.., blank)| blank.front == front)?;
        let on = |origin: &Origin| match origin {
            Origin::Whole(board) => *board == planned.board,
            Origin::Rest(rest) => {
                (rest.board, rest.copy) == (planned.board, planned.copy)
                    && rest.from <= blank.from
                    && blank.to <= rest.to
                    && rest.low <= blank.low
                    && blank.high <= rest.high
            }
            Origin::There => false,
        };
        let boards = &self.reduced.job.boards;
        let holds = |&(index, origin): &(usize, &Origin)| {
            on(origin) && boards[index].copies.contains(&planned.copy)
        };
        let origins = self.reduced.origin.iter().enumerate();
        origins.filter(holds).map(|(index, _)| index).next()
    }

    /// What each board costs a replacement for not being of its neighbours' log or cut.
    fn unlike(&self, front: usize) -> Vec<f64> {
        let Some(partner) = partner(self.state.job, self.state.sawn, front) else {
            return Vec::new();
        };
        let worth = self.state.job.settings.worth.tone_run;
        let boards = self.reduced.job.boards.iter();
        boards
            .map(|board| worth * mismatches(partner, board) as f64)
            .collect()
    }
}

/// Open chalk in stretches of which some is there already.
fn begun_stretches(builder: &Builder<'_>, open: &Fronts) -> Fronts {
    let key = |front: usize| {
        let run = builder.state.job.place_of(front).0;
        builder.chalked_stretch(front).map(|stretch| (run, stretch))
    };
    let fronts = 0..builder.state.job.fronts.len();
    let begun: BTreeSet<_> = fronts
        .filter(|&f| builder.is_there(f))
        .filter_map(key)
        .collect();
    let is_begun = |front: &&usize| key(**front).is_some_and(|key| begun.contains(&key));
    open.iter().filter(is_begun).copied().collect()
}
