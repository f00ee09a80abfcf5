//! Seeded stories of work in progress: a small job, its plan, and what happens in the shop, recut
//! after each. Invented.

use std::time::Duration;

use grainrow::job::{
    Board, Crosscut, Defect, DefectKind, DefectSide, Done, Finished, Front, FrontDone, Job, Run,
};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::{Length, Tone};
use grainrow::plan::{Plan, Sawn};
use grainrow::recut::{Last, Recut, begun, recut};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// Work in progress before a recut.
#[derive(Clone, Debug)]
pub struct Stand {
    pub job: Job,
    pub last: Plan,
    pub known: Sawn,
    pub done: Done,
}

pub fn request() -> Request {
    Request {
        time: Some(Duration::from_secs(20)),
        threads: 1,
        ..Request::default()
    }
}

impl Stand {
    /// What the saw has done.
    pub fn sawn(&self) -> Sawn {
        begun(&self.job, &self.last, &self.known, &self.done)
            .unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    pub fn recut(&self) -> Recut {
        let last = Last {
            plan: &self.last,
            plain: true,
        };
        recut(&self.job, &last, &self.sawn(), &request(), &Silent)
    }

    /// The same with the recut as the last plan.
    pub fn after(&self, recut: &Recut) -> Stand {
        Stand {
            last: recut.plan.clone(),
            known: recut.sawn.clone(),
            ..self.clone()
        }
    }
}

/// Quarters of an inch from `low` to `high` inches.
fn length(dice: &mut Pcg64, low: i64, high: i64) -> Length {
    Length::from_nm(dice.random_range(low * 4..=high * 4) * 6_350_000)
}

/// The job of a story: two to four boards, some wide enough for two strips, two to five fronts.
fn job(dice: &mut Pcg64) -> Job {
    let mut job = Job::default();
    job.settings.worth.moved = 0.0;
    job.settings.allowances.keep_offcut = Some(length(dice, 14, 26));
    job.settings.worth.unbroken = f64::from(dice.random_range(1..=4));
    job.settings.worth.glue_line = f64::from(dice.random_range(1..=3)) / 2.0;
    for board in 0..dice.random_range(2..=4) {
        let mut board = Board {
            id: format!("B{}", board + 1),
            copies: vec![1],
            length: length(dice, 36, 96),
            width: length(dice, 5, 12),
            thickness: Length::from_inches(1.0),
            tone: Tone::new(f64::from(dice.random_range(3..=6))).unwrap(),
            ..Board::default()
        };
        for _ in 0..dice.random_range(0..3) {
            let defect = defect(dice, &board);
            board.defects.push(defect);
        }
        job.boards.push(board);
    }
    let glued = dice.random_bool(0.3);
    while job.fronts.len() < 2 {
        let count = dice.random_range(1..=3);
        let first = job.fronts.len();
        let height = length(dice, 3, if glued { 7 } else { 5 });
        for _ in 0..count {
            job.fronts.push(Front {
                name: format!("f{}", job.fronts.len() + 1),
                width: length(dice, 8, 18),
                height,
                thickness: Length::from_inches(0.75),
                glue: glued,
                ..Front::default()
            });
        }
        job.runs.push(Run {
            name: format!("run {first}"),
            fronts: (first..first + count).collect(),
        });
    }
    job
}

/// A knot or a check somewhere on a board.
pub fn defect(dice: &mut Pcg64, board: &Board) -> Defect {
    let inches = |length: Length| length.nm() / 25_400_000;
    let from = length(dice, 0, inches(board.length) - 3);
    let low = length(dice, 0, inches(board.width) - 1);
    let long = length(dice, 1, 2);
    let sides = [DefectSide::Both, DefectSide::Both, DefectSide::Up];
    Defect {
        kind: DefectKind::Knot,
        from,
        to: from + long,
        low,
        high: (low + length(dice, 1, 2)).min(board.width),
        side: sides[dice.random_range(0..3)],
        notes: String::new(),
    }
}

/// Something happens: fronts are cut, made or spoiled, a defect shows, a board is cut through.
fn happen(dice: &mut Pcg64, stand: &mut Stand) {
    for front in fronts_made(&stand.last) {
        let done = &mut stand.done.fronts[front];
        match (dice.random_range(0..10), done.now) {
            (0..4, None) => done.now = Some(Finished::Cut),
            (0..2, Some(_)) => done.now = Some(Finished::Made),
            (4..6, _) => {
                done.spoiled += 1;
                done.now = None;
            }
            _ => {}
        }
    }
    let at = dice.random_range(0..stand.job.boards.len());
    if dice.random_bool(0.4) {
        let defect = defect(dice, &stand.job.boards[at]);
        stand.job.boards[at].defects.push(defect);
    }
    if dice.random_bool(0.2) {
        let board = at;
        let inches = stand.job.boards[board].length.nm() / 25_400_000;
        let at = length(dice, 4, inches - 4);
        // No saw goes through a section that is planned or cut.
        let hair = Length::from_inches(0.25);
        let mut sections = stand.last.boards.iter().filter(|b| b.board == board);
        let through = sections.any(|b| {
            let mut sections = b.sections.iter();
            sections.any(|s| s.from - hair < at && at < s.to + hair)
        });
        if !through {
            stand.done.crosscuts.push(Crosscut { board, copy: 1, at });
        }
    }
}

/// How a story stands before its last recut; nothing when the first plan makes nothing.
pub fn story(seed: u64) -> Option<(Stand, Pcg64)> {
    let mut dice = Pcg64::seed_from_u64(seed);
    let job = job(&mut dice);
    let last = layout::plan(&job, &request(), &Silent);
    let mut stand = Stand {
        done: Done {
            fronts: vec![FrontDone::default(); job.fronts.len()],
            crosscuts: Vec::new(),
            anew: false,
        },
        known: Sawn::default(),
        last,
        job,
    };
    if stand.last.boards.is_empty() {
        return None;
    }
    happen(&mut dice, &mut stand);
    for _ in 0..dice.random_range(0..3) {
        let next = stand.recut();
        stand = stand.after(&next);
        happen(&mut dice, &mut stand);
    }
    Some((stand, dice))
}

/// The fronts a plan makes, sorted.
pub fn fronts_made(plan: &Plan) -> Vec<usize> {
    let sections = plan.boards.iter().flat_map(|board| &board.sections);
    let strips = sections.flat_map(|section| &section.strips);
    let blanks = strips.flat_map(|strip| &strip.blanks);
    let mut fronts: Vec<usize> = blanks.map(|blank| blank.front).collect();
    fronts.sort_unstable();
    fronts.dedup();
    fronts
}
