//! Buying boards one by one until the construction heuristic makes every front.

use crate::job::Job;

use super::pattern::Costs;
use super::problem::Problem;
use super::ruin::Ruin;

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

/// A plan worse than the best by less than this, in board feet, may be gone on from.
const HEAT: f64 = 2.0;

/// Rounds after a board that by itself can't change anything.
const FEW_ROUNDS: usize = 2;

/// Buys the job's boards in their order, `first` of them at once and then one by one, until
/// `enough` says so or all are bought; at most `rounds` of ruin and recreate are spent after each.
///
/// The plan is carried from board to board, so what is made never gets less. A break costs more
/// than any board: the heuristic looks for plans without breaks first. Tones are left out of
/// account. Equal jobs and seeds give equal answers.
pub fn buy(
    job: &Job,
    first: usize,
    rounds: usize,
    seed: u64,
    mut enough: impl FnMut(Bought) -> bool,
) {
    let mut problem = Problem::new(job, false);
    let worth = &mut problem.worth;
    (worth.unbroken, worth.tone_run, worth.tone_case) = (dear(job), 0.0, 0.0);
    let copies: Vec<usize> = problem
        .stock
        .iter_mut()
        .map(|stock| std::mem::take(&mut stock.count))
        .collect();
    let costs = Costs::default();
    let mut ruin = Ruin::new(&problem, &costs, seed);
    for (index, &count) in copies.iter().enumerate() {
        ruin.supply(index, count);
        let boards = index + 1;
        if boards < first.min(copies.len()) {
            continue;
        }
        for _ in 0..rounds_worth(&problem, &ruin, boards, rounds) {
            ruin.round(HEAT);
            if whole(&problem, &ruin) {
                break;
            }
        }
        if enough(bought(&problem, &ruin, boards)) {
            return;
        }
    }
}

/// Rounds worth spending: few while every front is made and no board bought takes any of the
/// broken runs whole, for then only the next boards can help.
fn rounds_worth(problem: &Problem, ruin: &Ruin, boards: usize, rounds: usize) -> usize {
    let state = &ruin.best;
    let waits = |run: usize| {
        let rows = problem.runs[run].clone();
        let may_be_glued = rows
            .clone()
            .any(|row| !problem.glued_starts[row].is_empty());
        !may_be_glued && first_fit(problem, run, boards).is_none()
    };
    let made = state.unmade().next().is_none();
    let broken = |run: &usize| state.breaks_of(*run) > 0;
    if made && (0..problem.runs.len()).filter(broken).all(waits) {
        FEW_ROUNDS.min(rounds).max(1)
    } else {
        rounds.max(1)
    }
}

/// More than all the wood there is.
fn dear(job: &Job) -> f64 {
    let feet = |board: &crate::job::Board| board.feet().value() * board.copies.len() as f64;
    1.0 + job.boards.iter().map(feet).sum::<f64>()
}

/// Whether every front is made and no run broken: no plan is better for the purpose.
fn whole(problem: &Problem, ruin: &Ruin) -> bool {
    ruin.best.breaks() == 0 && ruin.best.unmade().next().is_none() && !problem.chain.is_empty()
}

fn bought(problem: &Problem, ruin: &Ruin, boards: usize) -> Bought {
    let state = &ruin.best;
    let wanting = |run: &usize| {
        let rows = problem.runs[*run].clone();
        state.breaks_of(*run) > 0 || rows.clone().any(|row| !state.covered[row])
    };
    Bought {
        boards,
        missing: state.unmade().count(),
        breaks: state.breaks() as usize,
        wanting: (0..problem.runs.len()).filter(wanting).collect(),
        first_fit: (0..problem.runs.len())
            .map(|run| first_fit(problem, run, boards))
            .collect(),
    }
}

fn first_fit(problem: &Problem, run: usize, boards: usize) -> Option<usize> {
    let rows = problem.runs[run].clone();
    let longest = problem.starts[rows.start].clone().last()?;
    if problem.items[longest].rows != rows {
        return None;
    }
    problem.stock[..boards]
        .iter()
        .position(|stock| stock.widest[longest] > 0)
}
