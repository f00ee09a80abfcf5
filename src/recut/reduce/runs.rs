//! The runs of the reduced job: what is there stands in its place as a front of its own.

use std::collections::BTreeSet;

use crate::job::{Board, Front, Run};
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
                let tones = self.tones(&run.fronts);
                looks += self.looks(run, &tones);
                done_tones.extend(tones);
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
            let front = self.add_there(&[tone]);
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

    fn add_run(&mut self, name: String, fronts: Vec<usize>) {
        self.reduced.job.runs.push(Run { name, fronts });
    }

    /// A stretch that is there: a front of its own, and a board that fits it and nothing else, so
    /// that its tones count. It is so large that leaving it out never pays, and has no thickness,
    /// so that no real front can take its board.
    fn add_there(&mut self, tones: &[f64]) -> usize {
        let id = format!("\u{1}there {}", self.reduced.fronts.len());
        let palest = tones.iter().copied().reduce(f64::min).unwrap_or_default();
        let darkest = tones.iter().copied().reduce(f64::max).unwrap_or_default();
        let mut ends = vec![palest, darkest];
        ends.dedup();
        let glued = ends.len() > 1;
        if glued {
            let line = self.state.job.settings.worth.glue_line;
            self.reduced.base -= line * self.price;
        }
        for &tone in &ends {
            let board = self.there_board(&id, tone, glued);
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
            width: THERE.0,
            height: THERE.1,
            board: Some(id),
            glue: glued,
            ..Front::default()
        };
        self.add_front(front, None)
    }

    /// A board that takes what is there, or one of its two staves, and has room for no more.
    fn there_board(&self, id: &str, tone: f64, stave: bool) -> Board {
        let settings = &self.state.job.settings;
        let allow = &settings.allowances;
        let whole = THERE.1 + allow.rough_width;
        let blank = if stave {
            Length::from_nm(((whole + settings.glue.joint).nm() + 1) / 2)
        } else {
            whole
        };
        Board {
            id: id.to_owned(),
            copies: vec![1],
            length: THERE.0 + allow.rough_length + allow.end_trim * 2,
            width: blank + allow.edge_trim * 2,
            thickness: allow.plane * 2,
            tone: Tone::new(tone).unwrap_or_default(),
            ..Board::default()
        }
    }
}

/// Length and width of a front that stands for what is there.
const THERE: (Length, Length) = (Length::from_nm(2_540_000_000), Length::from_nm(508_000_000));
