//! Buying boards one by one until the construction heuristic makes every front.

use crate::job::Job;
use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::insert::insert_rows;
use crate::layout::heuristics::ruin::Ruin;
use crate::layout::heuristics::state::State;
use crate::layout::model::looks::KINDS;
use crate::layout::model::problem::Problem;
use crate::layout::model::watch::{Patience, Watch};
use crate::layout::model::worths::Worths;

/// What can be made of the boards bought so far.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bought {
    /// Boards bought: the first so many of `Job::boards`.
    pub boards: usize,
    /// Fronts not made.
    pub missing: usize,
    /// Breaks in what is made.
    pub breaks: usize,
    /// Runs not made whole, as indices into `Job::runs`.
    pub wanting: Vec<usize>,
    /// For each run, the first board that by itself takes it whole and in one piece.
    pub first_fit: Vec<Option<usize>>,
}

/// How hard to look for a plan after each board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Boards bought at once before the first look.
    pub first: usize,
    /// Most rounds of ruin and recreate after each board.
    pub rounds: usize,
    /// Plans with more breaks than this are of no use.
    pub most_breaks: usize,
    /// Seed of the random steps.
    pub seed: u64,
}

/// A plan worse than the best by less than this, in board feet, may be gone on from.
pub(super) const HEAT: f64 = 2.0;

/// Buys the job's boards in their order, `first` of them at once and then one by one, until
/// `enough` says so or all are bought, or `stop` asks to give up.
///
/// The plan is carried from board to board, so what is made never gets less. A break costs more
/// than any board: the heuristic looks for plans without breaks first. Tones are left out of
/// account. After each board, runs that are broken or lack fronts are put anew; rounds of ruin
/// and recreate are spent only while the boards bought could bear a better plan. Equal jobs and
/// efforts give equal answers.
pub fn buy(
    job: &Job,
    effort: Effort,
    stop: &(dyn Fn() -> bool + Sync),
    mut enough: impl FnMut(Bought) -> bool,
) {
    let waiting = Waiting(stop);
    let mut problem = Problem::new(job, false);
    problem.patience = Patience::new(&waiting, None);
    problem.worth = whole_at_any_price(job, &problem.worth);
    let copies: Vec<usize> = problem
        .stock
        .iter_mut()
        .map(|stock| std::mem::take(&mut stock.count))
        .collect();
    let costs = Costs::rough();
    let mut ruin = Ruin::new(&problem, &costs, effort.seed);
    let mut hope = Hope::new(&problem);
    for (index, &count) in copies.iter().enumerate() {
        ruin.supply(index, count);
        hope.supply(&problem, index);
        let boards = index + 1;
        if boards < effort.first.min(copies.len()) {
            continue;
        }
        mend(&problem, &costs, &mut ruin, stop);
        for _ in 0..effort.rounds {
            if stop() || !hope.beats(&ruin.best, effort.most_breaks) {
                break;
            }
            ruin.round(HEAT);
        }
        if stop() || enough(bought(&problem, &ruin.best, &hope, boards)) {
            return;
        }
    }
}

/// Someone who only says when to stop.
pub(super) struct Waiting<'s>(pub(super) &'s (dyn Fn() -> bool + Sync));

impl Watch for Waiting<'_> {
    fn stop(&self) -> bool {
        (self.0)()
    }
}

/// Worths for which a break costs more than all the wood there is, and looks count for nothing else.
pub(super) fn whole_at_any_price(job: &Job, worth: &Worths) -> Worths {
    Worths {
        unbroken: dear(job),
        tone_run: 0.0,
        tone_case: 0.0,
        glue_line: worth.glue_line,
        mixed: [0.0; KINDS],
    }
}

/// More than all the wood there is.
fn dear(job: &Job) -> f64 {
    let feet = |board: &crate::job::Board| job.volume_of(board).value() * board.copies.len() as f64;
    1.0 + job.boards.iter().map(feet).sum::<f64>()
}

/// Takes each run that is not whole off the boards and puts it on again, now that there is one
/// board more.
fn mend(problem: &Problem, costs: &Costs, ruin: &mut Ruin, stop: &dyn Fn() -> bool) {
    for run in 0..problem.runs.len() {
        if stop() || !wanting(problem, &ruin.best, run) {
            continue;
        }
        let mut next = ruin.best.clone();
        next.remove_run(problem, costs, run);
        let rows = problem.runs[run].clone();
        insert_rows(problem, costs, &mut next, rows.start, rows.end);
        ruin.offer(next, 0.0);
    }
}

/// Whether a run is broken or lacks a front.
fn wanting(problem: &Problem, state: &State, run: usize) -> bool {
    let lacks = problem.runs[run].clone().any(|row| !state.covered[row]);
    lacks || state.breaks_of(run) > 0
}

fn bought(problem: &Problem, state: &State, hope: &Hope, boards: usize) -> Bought {
    Bought {
        boards,
        missing: state.unmade().count(),
        breaks: state.breaks() as usize,
        wanting: (0..problem.runs.len())
            .filter(|&run| wanting(problem, state, run))
            .collect(),
        first_fit: hope.first_fit.clone(),
    }
}

/// What no plan from the boards bought so far can better: each stretch alone on the best of them.
struct Hope {
    /// Whether some board bought takes each one-piece item.
    fits: Vec<bool>,
    /// Least breaks over all runs; nothing while some front fits no board.
    breaks: Option<usize>,
    /// For each run, the first board that takes it whole.
    first_fit: Vec<Option<usize>>,
}

impl Hope {
    fn new(problem: &Problem) -> Hope {
        Hope {
            fits: vec![false; problem.items.len()],
            breaks: None,
            first_fit: vec![None; problem.runs.len()],
        }
    }

    fn supply(&mut self, problem: &Problem, stock: usize) {
        let mut news = false;
        for (fits, &widest) in self.fits.iter_mut().zip(&problem.stock[stock].widest) {
            news |= widest > 0 && !*fits;
            *fits |= widest > 0;
        }
        if !news {
            return;
        }
        for (run, first) in self.first_fit.iter_mut().enumerate() {
            let whole = whole_item(problem, run);
            if first.is_none() && whole.is_some_and(|item| self.fits[item]) {
                *first = Some(stock);
            }
        }
        self.breaks = (0..problem.runs.len())
            .map(|run| self.least_breaks(problem, run))
            .sum();
    }

    /// Fewest breaks a run can be cut with. Glued up it may always be whole.
    fn least_breaks(&self, problem: &Problem, run: usize) -> Option<usize> {
        let rows = problem.runs[run].clone();
        if rows
            .clone()
            .any(|row| !problem.glued_starts[row].is_empty())
        {
            return Some(0);
        }
        // Fewest stretches that cut the first so many rows.
        let mut fewest: Vec<Option<usize>> = vec![None; rows.len() + 1];
        fewest[0] = Some(0);
        for row in rows.clone() {
            let Some(before) = fewest[row - rows.start] else {
                continue;
            };
            for item in problem.starts[row].clone().filter(|&item| self.fits[item]) {
                let end = &mut fewest[problem.items[item].rows.end - rows.start];
                *end = Some(end.map_or(before + 1, |least| least.min(before + 1)));
            }
        }
        fewest[rows.len()].map(|stretches| stretches.saturating_sub(1))
    }

    /// Whether there may be a plan that is of use and better than `state`.
    fn beats(&self, state: &State, most_breaks: usize) -> bool {
        let complete = state.unmade().next().is_none();
        self.breaks.is_some_and(|least| {
            least <= most_breaks && (!complete || least < state.breaks() as usize)
        })
    }
}

/// The item that takes a run whole and in one piece.
fn whole_item(problem: &Problem, run: usize) -> Option<usize> {
    let rows = problem.runs[run].clone();
    let longest = problem.starts[rows.start].clone().last()?;
    (problem.items[longest].rows == rows).then_some(longest)
}
