//! The best plan of a tiny job by trying everything, written from the rules of cutting alone.
//!
//! Every length of the job must be a whole number of [`STEP`]s (warp and thickness may be
//! anything). Then a best plan exists with every cut on a whole step: once it is chosen what lies
//! left, right, below and above of what, and on which side of each defect, the rules along a board
//! are differences of two cuts at least or at most so many steps, the corners of such a region are
//! whole, and the feet used are linear in the cuts along, and in the cuts across, so that a best
//! corner exists. The one exception is crook, whose trim depends on the section's length: see
//! `across::Candidates`.
//!
//! * `structure`: all ways to part the runs into stretches, and stretches into staves;
//! * `lane`: all ways to lay one stave of a stretch in a strip;
//! * `strip`: the shortest section that holds a set of lanes in one strip;
//! * `across`: the best stack of strips in a section;
//! * `board`: the best sections of a board;
//! * here: which lanes go on which board.

mod across;
pub mod begun;
mod board;
mod lane;
mod places;
mod strip;
mod structure;

use std::collections::BTreeMap;

use grainrow::job::{Board, Front, Job};
use grainrow::measure::Length;
use grainrow::plan::{BoardPlan, NotMade, Plan, totals};

use board::Boards;
use structure::{Lane, Option as RunOption, run_options};

/// The grid all cuts lie on: one inch.
pub const STEP: Length = Length::from_nm(25_400_000);

/// Square inches of the fronts a plan makes.
pub fn area_made(job: &Job, plan: &Plan) -> f64 {
    let missing = |front: usize| plan.not_made.iter().any(|m| m.front == front);
    let area = |f: &grainrow::job::Front| f.width.inches() * f.height.inches();
    let made = job
        .fronts
        .iter()
        .enumerate()
        .filter(|(index, _)| !missing(*index));
    made.map(|(_, front)| area(front)).sum()
}

/// The best plan: most area made, then least cost; its bound is its cost.
pub fn solve(job: &Job, by_money: bool) -> Plan {
    let mut search = Search {
        job,
        money: by_money && job.boards.iter().any(|board| board.price.is_some()),
        boards: Boards::new(job),
        best: None,
    };
    search.all_structures();
    let (_, _, mut plan) = search.best.expect("making nothing is always possible");
    plan.totals = totals(job, &plan, by_money);
    plan.totals.bound = plan.totals.cost;
    plan.totals = totals(job, &plan, by_money);
    plan
}

struct Search<'a> {
    job: &'a Job,
    money: bool,
    boards: Boards<'a>,
    /// Area made, cost, plan.
    best: Option<(f64, f64, Plan)>,
}

/// A copy of a board and the lanes laid on it.
type Load = BTreeMap<(usize, u32), Vec<Lane>>;

impl Search<'_> {
    fn all_structures(&mut self) {
        let options: Vec<Vec<RunOption>> = (0..self.job.runs.len())
            .map(|run| run_options(self.job, run))
            .collect();
        let mut structures: Vec<Vec<RunOption>> = vec![Vec::new()];
        for run in options {
            structures = structures
                .iter()
                .flat_map(|chosen| {
                    run.iter().map(move |option| {
                        let mut chosen = chosen.clone();
                        chosen.push(option.clone());
                        chosen
                    })
                })
                .collect();
        }
        let area = |s: &Vec<RunOption>| s.iter().map(|option| option.area).sum::<f64>();
        structures.sort_by(|a, b| area(b).total_cmp(&area(a)));
        for structure in structures {
            let area = area(&structure);
            if self
                .best
                .as_ref()
                .is_some_and(|(best, _, _)| area + 1e-9 < *best)
            {
                return;
            }
            let lanes: Vec<Lane> = structure.iter().flat_map(|o| o.lanes.clone()).collect();
            self.assign(&structure, area, &lanes, &mut Load::new());
        }
    }

    /// Lays the first of `lanes` on every board in turn, and the rest after it.
    fn assign(&mut self, structure: &[RunOption], area: f64, lanes: &[Lane], load: &mut Load) {
        let Some(cost) = self.cost(structure, load) else {
            return;
        };
        // Laying more never costs less.
        let beaten = |best: &(f64, f64, Plan)| best.0 <= area + 1e-9 && cost >= best.1 - 1e-9;
        if self.best.as_ref().is_some_and(beaten) {
            return;
        }
        let Some((lane, rest)) = lanes.split_first() else {
            self.best = Some((area, cost, self.plan(load)));
            return;
        };
        for (kind, board) in self.job.boards.iter().enumerate() {
            let may = |&front: &usize| may_come_from(&self.job.fronts[front], board);
            if !lane.fronts.iter().all(may) {
                continue;
            }
            for &copy in &board.copies {
                let fresh = !load.contains_key(&(kind, copy));
                load.entry((kind, copy)).or_default().push(lane.clone());
                self.assign(structure, area, rest, load);
                let lanes = load.entry((kind, copy)).or_default();
                lanes.pop();
                if lanes.is_empty() {
                    load.remove(&(kind, copy));
                }
                if fresh {
                    // All further copies of this kind are just as empty.
                    break;
                }
            }
        }
    }

    /// What the load costs so far, or nothing when some board cannot hold its lanes.
    fn cost(&mut self, structure: &[RunOption], load: &Load) -> Option<f64> {
        let worth = &self.job.settings.worth;
        let mut lumber = 0.0;
        for (&(kind, _), lanes) in load {
            let board = &self.job.boards[kind];
            let used = self.boards.feet_used(kind, lanes)?;
            lumber += match (self.money, board.price) {
                (false, _) => used,
                (true, Some(price)) => price * board.feet().value(),
                (true, None) => worth.owned * used,
            };
        }
        let breaks: usize = structure.iter().map(|option| option.breaks).sum();
        let lines: usize = structure.iter().map(|option| option.glue_lines).sum();
        let tone = |kind: usize| self.job.boards[kind].tone.value();
        let case = spread(load.keys().map(|&(kind, _)| tone(kind)));
        let runs: f64 = (0..self.job.runs.len())
            .map(|run| {
                let here = load
                    .iter()
                    .filter(|(_, lanes)| lanes.iter().any(|l| l.run == run));
                spread(here.map(|(&(kind, _), _)| tone(kind)))
            })
            .sum();
        let looks = worth.unbroken * breaks as f64
            + worth.glue_line * lines as f64
            + worth.tone_run * runs
            + worth.tone_case * case;
        Some(lumber + looks * if self.money { self.mean_price() } else { 1.0 })
    }

    fn mean_price(&self) -> f64 {
        let (mut feet, mut money) = (0.0, 0.0);
        for board in &self.job.boards {
            if let Some(price) = board.price {
                let all = board.feet().value() * board.copies.len() as f64;
                feet += all;
                money += all * price;
            }
        }
        money / feet
    }

    fn plan(&mut self, load: &Load) -> Plan {
        let boards: Vec<BoardPlan> = load
            .iter()
            .map(|(&(kind, copy), lanes)| self.boards.plan(kind, copy, lanes))
            .collect();
        let made = |front: usize| {
            load.values()
                .flatten()
                .any(|lane| lane.fronts.contains(&front))
        };
        let not_made = (0..self.job.fronts.len()).filter(|&front| !made(front));
        Plan {
            boards,
            not_made: not_made
                .map(|front| NotMade {
                    front,
                    why: "no way found among all".to_owned(),
                    buy: "another board".to_owned(),
                })
                .collect(),
            ..Plan::default()
        }
    }
}

fn spread(tones: impl Iterator<Item = f64>) -> f64 {
    let all: Vec<f64> = tones.collect();
    let darkest = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let palest = all.iter().copied().fold(f64::INFINITY, f64::min);
    if all.is_empty() {
        0.0
    } else {
        darkest - palest
    }
}

/// Every step from `from` to `to`, both included.
fn steps(from: Length, to: Length) -> impl Iterator<Item = Length> {
    let count = (to - from).nm().div_euclid(STEP.nm());
    (0..=count).map(move |n| from + STEP * n)
}

/// What the maker asked: one of the boards named, none of those barred, none left out.
pub fn may_come_from(front: &Front, board: &Board) -> bool {
    let here = |ids: &[String]| ids.contains(&board.id);
    (front.boards.is_empty() || here(&front.boards)) && !here(&front.not_boards) && !board.left_out
}
