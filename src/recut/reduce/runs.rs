//! The runs of the reduced job: what is there stands in its place as a front of its own.

use std::collections::BTreeSet;

use crate::job::{Board, Cut, Front, Run};
use crate::layout::{Counts, Part};
use crate::measure::{Length, Tone, Volume};
use crate::plan::placed;

use super::{Builder, Origin};

impl Builder<'_> {
    /// Runs with something to plan, what is there standing in their places; and of all other runs
    /// the palest and the darkest tone.
    pub(super) fn runs(&mut self) {
        let job = self.state.job;
        let mut done_tones: Vec<f64> = Vec::new();
        let mut looks = 0.0;
        for run in &job.runs {
            if run.fronts.iter().all(|&front| self.is_there(front)) {
                let there = self.looks_of(&run.fronts);
                looks += self.looks(run, &there);
                done_tones.extend(there.iter().map(|look| look.tone));
            } else {
                self.run(run);
            }
        }
        let palest = done_tones.iter().copied().reduce(f64::min);
        let darkest = done_tones.iter().copied().reduce(f64::max);
        let ends = palest
            .into_iter()
            .chain(darkest.filter(|_| palest != darkest));
        for tone in ends {
            let plain = Look {
                tone,
                ..Look::default()
            };
            let front = self.add_there(&[plain]);
            self.add_run(format!("done {tone}"), vec![front]);
        }
        let totals = &self.there.totals;
        let wood = match totals.money {
            Some(money) => money.buy + money.owned,
            None => totals.feet_used.value(),
        };
        let glue = job.settings.worth.glue_line * totals.glue_lines as f64;
        self.reduced.base += wood + (looks + glue) * self.price;
    }

    /// What the breaks, the tones, the logs and the ways of sawing of a run that is all there cost.
    fn looks(&self, run: &Run, there: &[Look]) -> f64 {
        let of_run = placed(&self.there).filter(|(.., blank)| run.fronts.contains(&blank.front));
        let stretches: BTreeSet<u32> = of_run.map(|(.., blank)| blank.stretch).collect();
        let tones = || there.iter().map(|look| look.tone);
        let palest = tones().fold(f64::INFINITY, f64::min);
        let darkest = tones().fold(f64::NEG_INFINITY, f64::max);
        let logs: BTreeSet<&String> = there.iter().filter_map(|look| look.log.as_ref()).collect();
        let cuts: Vec<Cut> = there.iter().filter_map(|look| look.cut).collect();
        let cuts = [Cut::Flat, Cut::Rift, Cut::Quarter].map(|cut| cuts.contains(&cut));
        let cuts = cuts.into_iter().filter(|there| *there).count();
        let worth = &self.state.job.settings.worth;
        worth.unbroken * stretches.len().saturating_sub(1) as f64
            + worth.tone_run * (darkest - palest).max(0.0)
            + worth.mixed_log * logs.len().saturating_sub(1) as f64
            + worth.mixed_cut * cuts.saturating_sub(1) as f64
    }

    /// Looks of the boards these fronts come from.
    fn looks_of(&self, fronts: &[usize]) -> Vec<Look> {
        placed(&self.there)
            .filter(|(.., blank)| fronts.contains(&blank.front))
            .map(|(planned, ..)| Look::of(&self.state.job.boards[planned.board]))
            .collect()
    }

    fn run(&mut self, run: &Run) {
        let mut members = Vec::new();
        let mut at = 0;
        while let Some(&front) = run.fronts.get(at) {
            if !self.is_there(front) {
                let next = run.fronts.get(at + 1);
                let alone = next.is_none_or(|&next| self.is_there(next));
                let mut own = self.state.job.fronts[front].clone();
                // What is there can't be kept in one stretch with it any more.
                own.with_next &= !alone;
                members.push(self.add_front(own, Some(front)));
                at += 1;
                continue;
            }
            let stretch = self.stretch(front);
            let together = run.fronts[at..]
                .iter()
                .take_while(|&&f| self.is_there(f) && self.stretch(f) == stretch)
                .count();
            let there = self.looks_of(&run.fronts[at..at + together]);
            members.push(self.add_there(&there));
            at += together;
        }
        self.add_run(run.name.clone(), members);
    }

    /// Length and width of a front that stands for what is there: no wider than the machines take.
    fn there_size(&self) -> (Length, Length) {
        let settings = &self.state.job.settings;
        let most = settings.machines.widest.unwrap_or(THERE.1 * 2);
        let inch = Length::from_inches(1.0);
        let wide = (most - settings.allowances.rough_width).max(inch);
        let wide = wide.min(THERE.1);
        let times = (THERE.1.nm() + wide.nm() - 1) / wide.nm();
        (THERE.0 * times, wide)
    }

    fn stretch(&self, front: usize) -> Option<u32> {
        placed(&self.there)
            .find(|(.., blank)| blank.front == front)
            .map(|(.., blank)| blank.stretch)
    }

    fn add_run(&mut self, name: String, fronts: Vec<usize>) {
        self.reduced.job.runs.push(Run { name, fronts });
    }

    /// A stretch that is there: a front of its own, and a board that fits it and nothing else, so
    /// that its tones, logs and ways of sawing count; where it has several, a board for each stave. It is so large that leaving it out never pays, and has no thickness,
    /// so that no real front can take its board.
    fn add_there(&mut self, there: &[Look]) -> usize {
        let id = format!("\u{1}there {}", self.reduced.fronts.len());
        let staves = telling(there);
        let glued = staves.len() > 1;
        let line = self.state.job.settings.worth.glue_line;
        self.reduced.base -= line * self.price * (staves.len() - 1) as f64;
        for look in &staves {
            let board = self.there_board(&id, look, staves.len() as i64);
            let counts = Counts {
                part: Part::Board,
                whole: Volume::new(0.0),
                kept: false,
                ends: [false; 2],
                price: false,
            };
            self.add_board(board, Origin::There, Some(counts));
        }
        let front = Front {
            name: id.clone(),
            width: self.there_size().0,
            height: self.there_size().1,
            boards: vec![id],
            glue: glued,
            ..Front::default()
        };
        self.add_front(front, None)
    }

    /// A board that takes what is there, or one of its staves, and has room for no more.
    fn there_board(&self, id: &str, look: &Look, staves: i64) -> Board {
        let settings = &self.state.job.settings;
        let allow = &settings.allowances;
        let (long, wide) = self.there_size();
        let whole = wide + allow.rough_width;
        let all = whole + settings.glue.joint * (staves - 1);
        let blank = Length::from_nm((all.nm() + staves - 1) / staves);
        Board {
            id: id.to_owned(),
            copies: vec![1],
            length: long + allow.rough_length + allow.end_trim * 2,
            width: blank + allow.edge_trim * 2,
            thickness: allow.plane * 2,
            tone: Tone::new(look.tone).unwrap_or_default(),
            log: look.log.clone(),
            cut: look.cut,
            ..Board::default()
        }
    }
}

/// What counts of a board beside its wood.
#[derive(Clone, Debug, Default, PartialEq)]
struct Look {
    tone: f64,
    log: Option<String>,
    cut: Option<Cut>,
}

impl Look {
    fn of(board: &Board) -> Look {
        Look {
            tone: board.tone.value(),
            log: board.log.clone(),
            cut: board.cut,
        }
    }
}

/// The fewest looks known to tell all that counts: the palest, the darkest, and one for each log and way of
/// sawing those have not.
fn telling(there: &[Look]) -> Vec<Look> {
    let mut by_tone: Vec<&Look> = there.iter().collect();
    by_tone.sort_by(|a, b| a.tone.total_cmp(&b.tone));
    let mut told: Vec<Look> = Vec::new();
    let ends = by_tone.first().into_iter().chain(by_tone.last());
    for look in ends {
        if told.iter().all(|other| other.tone != look.tone) {
            told.push((*look).clone());
        }
    }
    for look in by_tone {
        let log = look.log.is_some() && told.iter().all(|other| other.log != look.log);
        let cut = look.cut.is_some() && told.iter().all(|other| other.cut != look.cut);
        if log || cut {
            told.push(look.clone());
        }
    }
    if told.is_empty() {
        told.push(Look::default());
    }
    told
}

/// Length and width of a front that stands for what is there.
const THERE: (Length, Length) = (Length::from_nm(2_540_000_000), Length::from_nm(508_000_000));
