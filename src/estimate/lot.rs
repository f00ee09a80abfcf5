//! The lots a job is bought in: the runs cut from boards of one thickness.

use super::obstacle::{Obstacle, Why};
use crate::job::{Board, Front, Job, OnSale, Run, Settings, Yard};
use crate::layout;
use crate::measure::Length;
use crate::milling;

/// The runs bought in one thickness, ready for trials.
#[derive(Clone, Debug)]
pub struct Lot {
    /// The thickness, and its price where known.
    pub on_sale: OnSale,
    /// The lot's fronts and runs as a job of their own, without boards.
    pub job: Job,
    /// Each of its runs as an index into the whole job's `runs`.
    pub runs: Vec<usize>,
    /// Breaks no board of this yard can spare it, whatever is bought.
    pub forced: usize,
}

/// Sorts the runs of `job` into lots, thinnest first.
///
/// A run is bought in the thinnest stock on sale that still holds its thickest front after a
/// board of middling warp is flattened, else in the thinnest that any board of the yard holds it
/// in. It is not reckoned with that a thin run may come out of what is left of thicker boards:
/// the estimate errs to the safe side there. Fronts are glued up only in runs that the yard's
/// boards do not hold in one piece.
///
/// # Errors
/// The fronts that no board of this yard could make, each with what would cure it.
pub fn lots(job: &Job) -> Result<Vec<Lot>, Vec<Obstacle>> {
    let yard = &job.settings.yard;
    let mut obstacles = Vec::new();
    let mut lots: Vec<Lot> = yard
        .thickness
        .iter()
        .map(|&sale| empty(job, sale))
        .collect();
    for (index, run) in job.runs.iter().enumerate() {
        match thickness_for(job, run) {
            Ok(kind) => lots[kind].add(job, index),
            Err(found) => obstacles.push(found),
        }
    }
    lots.retain(|lot| !lot.runs.is_empty());
    for lot in &mut lots {
        obstacles.extend(lot.prepare(yard));
    }
    if obstacles.is_empty() {
        Ok(lots)
    } else {
        Err(obstacles)
    }
}

impl Lot {
    /// Volume of the finished fronts, at this lot's thickness: what the plan calls the feet
    /// in the fronts.
    pub fn net(&self) -> f64 {
        let net = |front: &Front| self.feet(front.along(), front.across());
        self.job.fronts.iter().map(net).sum()
    }

    /// Volume of the blanks, with their rough allowances.
    pub fn rough(&self) -> f64 {
        (0..self.runs.len()).map(|run| self.rough_of(run)).sum()
    }

    /// Volume of the blanks of one of its runs.
    pub fn rough_of(&self, run: usize) -> f64 {
        let allowances = &self.job.settings.allowances;
        let blank = |&front: &usize| {
            let front = &self.job.fronts[front];
            let long = milling::blank_length(front, allowances);
            self.feet(long, milling::blank_width(front, allowances))
        };
        self.job.runs[run].fronts.iter().map(blank).sum()
    }

    fn feet(&self, long: Length, wide: Length) -> f64 {
        self.job.volume(long, wide, self.on_sale.thickness).value()
    }

    fn add(&mut self, job: &Job, index: usize) {
        let run = &job.runs[index];
        let first = self.job.fronts.len();
        self.job.fronts.extend(run.fronts.iter().map(|&f| Front {
            // Boards that are not bought yet have no names to be pinned to.
            boards: Vec::new(),
            not_boards: Vec::new(),
            ..job.fronts[f].clone()
        }));
        self.job.runs.push(Run {
            name: run.name.clone(),
            fronts: (first..self.job.fronts.len()).collect(),
        });
        self.runs.push(index);
    }

    /// Lays the lot out on the best boards the yard could have: what they do not hold in one
    /// piece may be glued, what they break no pile will spare.
    fn prepare(&mut self, yard: &Yard) -> Vec<Obstacle> {
        let may_glue: Vec<bool> = self.job.fronts.iter().map(|f| f.glue).collect();
        self.job.fronts.iter_mut().for_each(|f| f.glue = false);
        let whole = self.on_best_boards(yard);
        for run in &self.job.runs {
            if run.fronts.iter().any(|f| whole.missing.contains(f)) {
                run.fronts
                    .iter()
                    .for_each(|&f| self.job.fronts[f].glue = may_glue[f]);
            }
        }
        let best = self.on_best_boards(yard);
        self.forced = best.breaks;
        best.obstacles
    }

    fn on_best_boards(&self, yard: &Yard) -> BestCase {
        let mut job = self.job.clone();
        job.settings.worth.unbroken = 1e3;
        let count = 2 * job.fronts.len() as u32 * MOST_STAVES;
        job.boards = vec![best_board(yard, self.on_sale.thickness, count)];
        let plan = layout::quick(&job, 0);
        BestCase {
            missing: plan.not_made.iter().map(|n| n.front).collect(),
            breaks: plan.totals.breaks,
            obstacles: plan
                .not_made
                .into_iter()
                .map(|not_made| Obstacle {
                    front: job.fronts[not_made.front].name.clone(),
                    why: Why::NoBoard(not_made.why),
                    cure: format!("the yard would have to sell {}", not_made.buy),
                })
                .collect(),
        }
    }
}

/// More staves than a front is ever glued from in a yard worth going to.
const MOST_STAVES: u32 = 4;

struct BestCase {
    missing: Vec<usize>,
    breaks: usize,
    obstacles: Vec<Obstacle>,
}

fn empty(job: &Job, on_sale: OnSale) -> Lot {
    Lot {
        on_sale,
        job: Job {
            settings: Settings {
                title: String::new(),
                ..job.settings.clone()
            },
            ..Job::default()
        },
        runs: Vec::new(),
        forced: 0,
    }
}

/// The longest, widest and flattest board the yard may have, without a defect.
fn best_board(yard: &Yard, thickness: Length, copies: u32) -> Board {
    Board {
        id: "the yard's best board".to_owned(),
        copies: (1..=copies).collect(),
        length: yard.length.most(),
        width: yard.width.most(),
        thickness,
        tone: yard.tone.least,
        bow: yard.bow.least,
        cup: yard.cup.least,
        twist: yard.twist.least,
        crook: yard.crook.least,
        ..Board::default()
    }
}

/// Index into the yard's thicknesses of the one a run is bought in.
fn thickness_for(job: &Job, run: &Run) -> Result<usize, Obstacle> {
    let yard = &job.settings.yard;
    let best = |thickness| best_board(yard, thickness, 1);
    let middling = |thickness| {
        let middle = |a: Length, b: Length| (a + b).half();
        Board {
            length: middle(yard.length.least(), yard.length.most()),
            width: middle(yard.width.least(), yard.width.most()),
            bow: middle(yard.bow.least, yard.bow.most),
            cup: middle(yard.cup.least, yard.cup.most),
            twist: middle(yard.twist.least, yard.twist.most),
            ..best(thickness)
        }
    };
    let holds = |board: &Board| {
        run.fronts
            .iter()
            .all(|&f| holds(job, board, &job.fronts[f]))
    };
    let thinnest = |board: &dyn Fn(Length) -> Board| {
        yard.thickness
            .iter()
            .position(|sale| holds(&board(sale.thickness)))
    };
    thinnest(&middling)
        .or_else(|| thinnest(&best))
        .ok_or_else(|| Obstacle::too_thick(job, run))
}

/// Whether a front comes out thick enough when its blank is flattened by itself.
fn holds(job: &Job, board: &Board, front: &Front) -> bool {
    let allowances = &job.settings.allowances;
    let long = milling::blank_length(front, allowances).max(allowances.shortest_safe);
    let wide = milling::blank_width(front, allowances);
    // A blank longer or wider than the board is told of later, as what it is.
    let (long, wide) = (long.min(board.length), wide.min(board.width));
    milling::flat_enough(board, front, allowances.plane, long, wide)
}
