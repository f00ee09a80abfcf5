//! The job still to do, as one the optimiser can plan.

use std::collections::BTreeSet;

use crate::job::{Board, Front, Job, Run};
use crate::layout::{Counts, History};
use crate::measure::{BoardFeet, Length, Tone};
use crate::plan::{self, BoardPlan, Plan, Sawn, placed};

use super::choose::Last;
use super::rest::{Rest, rests};
use super::stays::{Fronts, as_plan, occupied};

/// The job still to do, and how to get back from it.
#[derive(Debug)]
pub(super) struct Reduced {
    pub(super) job: Job,
    pub(super) history: History,
    /// What each of its boards is.
    pub(super) origin: Vec<Origin>,
    /// The front each of its fronts is; nothing for what is there already.
    pub(super) fronts: Vec<Option<usize>>,
    /// What has to be added to its cost for the cost of the whole.
    pub(super) base: f64,
    /// How much its bound may be too high because kept pieces of rests are only nearly counted.
    pub(super) slack: f64,
}

/// What a board of the reduced job is.
#[derive(Clone, Debug)]
pub(super) enum Origin {
    /// A board nothing lies on, by index into `Job::boards`.
    Whole(usize),
    /// What is left of a board in use.
    Rest(Rest),
    /// What is there already.
    There,
}

/// All that a reduction is made from.
#[derive(Clone, Copy)]
pub(super) struct State<'a> {
    pub(super) job: &'a Job,
    pub(super) last: &'a Last<'a>,
    pub(super) sawn: &'a Sawn,
    /// Chalk that keeps every rule; leaving its place is a move.
    pub(super) held: &'a Fronts,
}

/// The job still to do when the chalk of `stays` stays.
pub(super) fn reduce(state: State<'_>, stays: &Fronts) -> Reduced {
    let mut builder = Builder::new(state, stays);
    builder.boards();
    builder.runs();
    builder.history();
    builder.reduced
}

struct Builder<'a> {
    state: State<'a>,
    stays: &'a Fronts,
    /// What is cut and what stays, as a plan.
    there: Plan,
    reduced: Reduced,
    price: f64,
}

impl<'a> Builder<'a> {
    fn new(state: State<'a>, stays: &'a Fronts) -> Builder<'a> {
        let State {
            job, last, sawn, ..
        } = state;
        let mean_price = plan::mean_price(job).filter(|_| last.by_money());
        Builder {
            state,
            stays,
            there: as_plan(job, last.plan, sawn, stays, last.by_money()),
            price: mean_price.unwrap_or(1.0),
            reduced: Reduced {
                job: Job {
                    settings: job.settings.clone(),
                    ..Job::default()
                },
                history: History {
                    moved: job.settings.worth.moved,
                    mean_price,
                    ..History::default()
                },
                origin: Vec::new(),
                fronts: Vec::new(),
                base: 0.0,
                slack: 0.0,
            },
        }
    }

    fn is_there(&self, front: usize) -> bool {
        self.stays.contains(&front) || self.state.sawn.is_fixed(front)
    }

    fn add_board(&mut self, board: Board, origin: Origin, counts: Option<Counts>) {
        self.reduced.job.boards.push(board);
        self.reduced.origin.push(origin);
        self.reduced.history.counts.push(counts);
    }

    /// Whole boards first, then what is left of those in use.
    fn boards(&mut self) {
        let State {
            job, last, sawn, ..
        } = self.state;
        let mut in_use = occupied(last.plan, sawn, self.stays);
        for cut in &sawn.crosscuts {
            if !in_use
                .iter()
                .any(|b| (b.board, b.copy) == (cut.board, cut.copy))
            {
                in_use.push(BoardPlan {
                    board: cut.board,
                    copy: cut.copy,
                    ..BoardPlan::default()
                });
            }
        }
        for (index, board) in job.boards.iter().enumerate() {
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
            for rest in rests(job, planned, sawn) {
                if rest.to - rest.from >= least.0 && rest.high - rest.low >= least.1 {
                    self.add_rest(rest, !planned.sections.is_empty());
                }
            }
        }
    }

    /// No blank or stave of a front still to be planned is shorter or narrower than this.
    fn least_blank(&self) -> (Length, Length) {
        let State { job, .. } = self.state;
        let allow = &job.settings.allowances;
        let free = || {
            (0..job.fronts.len())
                .filter(|&f| !self.is_there(f))
                .map(|f| &job.fronts[f])
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
        (
            long.unwrap_or_default(),
            free().map(wide).min().unwrap_or_default(),
        )
    }

    /// The wood of a board in use is spent, but for what would go back on the rack.
    fn add_rest(&mut self, rest: Rest, in_use: bool) {
        let job = self.state.job;
        let saved = rest.keepable || !in_use;
        let whole = if saved {
            rest.feet(job)
        } else {
            BoardFeet::new(0.0)
        };
        if !rest.exact {
            self.reduced.slack += rest.feet(job).value() * self.price;
        }
        let counts = Counts {
            whole,
            kept: saved,
            price: !in_use,
        };
        self.add_board(rest.as_board(job), Origin::Rest(rest), Some(counts));
    }

    /// Runs with something to plan, what is there standing in their places; and of all other runs
    /// the palest and the darkest tone.
    fn runs(&mut self) {
        let job = self.state.job;
        let mut done_tones: Vec<f64> = Vec::new();
        let mut looks = 0.0;
        for run in &job.runs {
            if run.fronts.iter().all(|&front| self.is_there(front)) {
                let tones = self.tones(&run.fronts);
                looks += self.looks(run, &tones);
                done_tones.extend(tones);
            } else {
                self.run(run);
            }
        }
        let palest = done_tones.iter().copied().reduce(f64::min);
        let darkest = done_tones.iter().copied().reduce(f64::max);
        for tone in palest
            .into_iter()
            .chain(darkest.filter(|_| palest != darkest))
        {
            let front = self.add_there(&[tone]);
            self.add_run(format!("done {tone}"), vec![front]);
        }
        let totals = &self.there.totals;
        let worth = &job.settings.worth;
        let wood = match totals.money {
            Some(money) => money.buy + money.owned,
            None => totals.feet_used.value(),
        };
        let glue = worth.glue_line * totals.glue_lines as f64;
        self.reduced.base += wood + (looks + glue) * self.price;
    }

    /// What the breaks and the tones of a run that is all there cost.
    fn looks(&self, run: &Run, tones: &[f64]) -> f64 {
        let of_run = placed(&self.there).filter(|(.., blank)| run.fronts.contains(&blank.front));
        let stretches: BTreeSet<u32> = of_run.map(|(.., blank)| blank.stretch).collect();
        let palest = tones.iter().copied().fold(f64::INFINITY, f64::min);
        let darkest = tones.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let worth = &self.state.job.settings.worth;
        worth.unbroken * stretches.len().saturating_sub(1) as f64
            + worth.tone_run * (darkest - palest).max(0.0)
    }

    /// Tones of the boards these fronts come from.
    fn tones(&self, fronts: &[usize]) -> Vec<f64> {
        placed(&self.there)
            .filter(|(.., blank)| fronts.contains(&blank.front))
            .map(|(planned, ..)| self.state.job.boards[planned.board].tone.value())
            .collect()
    }

    fn run(&mut self, run: &Run) {
        let mut members = Vec::new();
        let mut at = 0;
        while let Some(&front) = run.fronts.get(at) {
            if !self.is_there(front) {
                members.push(self.add_front(self.state.job.fronts[front].clone(), Some(front)));
                at += 1;
                continue;
            }
            let stretch = self.stretch(front);
            let together = run.fronts[at..]
                .iter()
                .take_while(|&&f| self.is_there(f) && self.stretch(f) == stretch)
                .count();
            let tones = self.tones(&run.fronts[at..at + together]);
            members.push(self.add_there(&tones));
            at += together;
        }
        self.add_run(run.name.clone(), members);
    }

    fn stretch(&self, front: usize) -> Option<u32> {
        placed(&self.there)
            .find(|(.., blank)| blank.front == front)
            .map(|(.., blank)| blank.stretch)
    }

    fn add_front(&mut self, front: Front, is: Option<usize>) -> usize {
        self.reduced.job.fronts.push(front);
        self.reduced.fronts.push(is);
        self.reduced.fronts.len() - 1
    }

    fn add_run(&mut self, name: String, fronts: Vec<usize>) {
        self.reduced.job.runs.push(Run { name, fronts });
    }

    /// A stretch that is there: a front of its own, and a board that fits it and nothing else, so
    /// that its tones count. It is so large that leaving it out never pays, and has no thickness,
    /// so that no real front can take its board.
    fn add_there(&mut self, tones: &[f64]) -> usize {
        let settings = &self.state.job.settings;
        let allow = &settings.allowances;
        let (along, across) = (Length::from_inches(100.0), Length::from_inches(20.0));
        let id = format!("\u{1}there {}", self.reduced.fronts.len());
        let palest = tones.iter().copied().reduce(f64::min).unwrap_or_default();
        let darkest = tones.iter().copied().reduce(f64::max).unwrap_or_default();
        let mut ends = vec![palest, darkest];
        ends.dedup();
        let glued = ends.len() > 1;
        let blank = if glued {
            let worth = &settings.worth;
            self.reduced.base -= worth.glue_line * self.price;
            let whole = across + allow.rough_width + settings.glue.joint;
            Length::from_nm((whole.nm() + 1) / 2)
        } else {
            across + allow.rough_width
        };
        let board = Board {
            id: id.clone(),
            copies: vec![1],
            length: along + allow.rough_length + allow.end_trim * 2,
            width: blank + allow.edge_trim * 2,
            thickness: allow.plane * 2,
            ..Board::default()
        };
        for tone in ends {
            let counts = Counts {
                whole: BoardFeet::new(0.0),
                kept: false,
                price: false,
            };
            let board = Board {
                tone: Tone::new(tone).unwrap_or_default(),
                ..board.clone()
            };
            self.add_board(board, Origin::There, Some(counts));
        }
        let front = Front {
            name: id.clone(),
            width: along,
            height: across,
            board: Some(id),
            glue: glued,
            ..Front::default()
        };
        self.add_front(front, None)
    }

    /// Where each front is chalked now, and how unlike its neighbours' each board is.
    fn history(&mut self) {
        let homes: Vec<Option<usize>> = self
            .reduced
            .fronts
            .iter()
            .map(|front| {
                front
                    .filter(|f| self.state.held.contains(f))
                    .and_then(|f| self.home(f))
            })
            .collect();
        let unlike = self.reduced.fronts.iter().map(|front| match front {
            Some(front) if !self.state.held.contains(front) => self.unlike(*front),
            _ => Vec::new(),
        });
        self.reduced.history.unlike = unlike.collect();
        self.reduced.history.home = homes;
    }

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
        let holds = |&(index, origin): &(usize, &Origin)| {
            on(origin)
                && self.reduced.job.boards[index]
                    .copies
                    .contains(&planned.copy)
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

/// The board of the nearest front of the run that is cut or made: what a replacement should look
/// like.
pub(super) fn partner<'j>(job: &'j Job, sawn: &Sawn, front: usize) -> Option<&'j Board> {
    let (run, place) = job.place_of(front);
    let fronts = &job.runs[run].fronts;
    let distance = |at: usize| at.abs_diff(place);
    let mut nearest: Vec<usize> = (0..fronts.len()).filter(|&at| at != place).collect();
    nearest.sort_by_key(|&at| (distance(at), at));
    let piece = nearest.into_iter().find_map(|at| {
        sawn.standing()
            .find(|piece| piece.blank.front == fronts[at])
    })?;
    Some(&job.boards[piece.board])
}

/// In how many of log and cut a board is known to differ from another.
pub(super) fn mismatches(a: &Board, b: &Board) -> usize {
    let differ = |same: Option<bool>| usize::from(same == Some(false));
    let log = a.log.as_ref().zip(b.log.as_ref()).map(|(a, b)| a == b);
    let cut = a.cut.zip(b.cut).map(|(a, b)| a == b);
    differ(log) + differ(cut)
}
