//! Choosing from boards that are all there: the least wood in whole boards that makes every front.

use crate::job::Job;

use crate::layout::answer::trial::{HEAT, Waiting, whole_at_any_price};
use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::ruin::Ruin;
use crate::layout::heuristics::state::State;
use crate::layout::model::problem::Problem;
use crate::layout::model::watch::Patience;

/// What is chosen from a stack.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chosen {
    /// Boards to take, as indices into `Job::boards`.
    pub boards: Vec<usize>,
    /// Fronts not made.
    pub missing: usize,
    /// Breaks in what is made.
    pub breaks: usize,
}

/// How hard to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Looks {
    /// Rounds of ruin and recreate for the first choice.
    pub rounds: usize,
    /// Choices of fewer or smaller boards that are tried after it.
    pub choices: usize,
    /// Rounds of ruin and recreate for each of them.
    pub rounds_each: usize,
    /// Seed of the random steps.
    pub seed: u64,
}

/// Chooses from the job's boards, each taken whole.
///
/// First the fronts are made, then with as few breaks as may be, then from the least wood. Tones are left out of
/// account. Of the boards of a first plan one at a time is then left out, or given for a smaller one, as long as the
/// rest still makes as much. Equal jobs and looks give equal choices; `stop` breaks off with what was found so far.
pub fn choose(job: &Job, looks: Looks, stop: &(dyn Fn() -> bool + Sync)) -> Chosen {
    let mut offered = job.clone();
    // A board on offer is paid for whole; at one price for all, what is paid is the wood.
    offered
        .boards
        .iter_mut()
        .for_each(|board| board.price = Some(1.0));
    let waiting = Waiting(stop);
    let mut problem = Problem::new(&offered, true);
    problem.patience = Patience::new(&waiting, None);
    problem.worth = whole_at_any_price(job, &problem.worth);
    let all: Vec<usize> = (0..problem.stock.len()).collect();
    let first = made_of(&mut problem, &all, (looks.rounds, looks.seed), stop);
    let (missing, breaks) = (first.unmade().count(), first.breaks() as usize);
    let mut chosen = taken(&first);
    let mut left = looks.choices;
    while let Some(fewer) = exchanged(&mut problem, &chosen, &mut left, |problem, boards| {
        let state = made_of(problem, boards, (looks.rounds_each, looks.seed), stop);
        let as_much = state.unmade().count() <= missing && state.breaks() as usize <= breaks;
        (as_much && !stop()).then(|| taken(&state))
    }) {
        chosen = fewer;
    }
    let mut boards: Vec<usize> = chosen.iter().map(|&at| problem.stock[at].board).collect();
    boards.sort_unstable();
    Chosen {
        boards,
        missing,
        breaks,
    }
}

/// The best plan found from some of the boards alone.
fn made_of(
    problem: &mut Problem,
    boards: &[usize],
    (rounds, seed): (usize, u64),
    stop: &(dyn Fn() -> bool + Sync),
) -> State {
    problem.stock.iter_mut().for_each(|stock| stock.count = 0);
    boards.iter().for_each(|&at| problem.stock[at].count = 1);
    let costs = Costs::rough();
    let mut ruin = Ruin::new(problem, &costs, seed);
    for _ in 0..rounds {
        if stop() {
            break;
        }
        ruin.round(HEAT);
    }
    ruin.best
}

/// The boards cut, each once.
fn taken(state: &State) -> Vec<usize> {
    let mut boards: Vec<usize> = state.boards.iter().map(|pattern| pattern.stock).collect();
    boards.sort_unstable();
    boards.dedup();
    boards
}

/// Of the choices that leave out a board, or give one or two for another, the cheapest that `makes` as much; of `left`
/// tries each costs one.
fn exchanged(
    problem: &mut Problem,
    chosen: &[usize],
    left: &mut usize,
    makes: impl Fn(&mut Problem, &[usize]) -> Option<Vec<usize>>,
) -> Option<Vec<usize>> {
    for boards in cheaper(problem, chosen) {
        *left = left.checked_sub(1)?;
        if let Some(found) = makes(problem, &boards) {
            return Some(found);
        }
    }
    None
}

/// Choices near `chosen` that cost less and hold as much wood as all blanks take, the cheapest first.
fn cheaper(problem: &Problem, chosen: &[usize]) -> Vec<Vec<usize>> {
    let cost = |boards: &[usize]| -> f64 { boards.iter().map(|&at| problem.stock[at].whole).sum() };
    let wood = |boards: &[usize]| -> f64 {
        let area = |at: &usize| {
            let stock = &problem.stock[*at];
            (stock.to - stock.from) as f64 * stock.width as f64
        };
        boards.iter().map(area).sum()
    };
    let singles = (0..problem.chain.len()).map(|row| &problem.items[problem.starts[row].start]);
    let needed: f64 = singles
        .map(|item| item.length as f64 * item.width as f64)
        .sum();
    let now = cost(chosen);
    let fits = |boards: &Vec<usize>| cost(boards) < now - 1e-9 && wood(boards) >= needed;
    let without = |out: &[usize]| -> Vec<usize> {
        let stays = chosen.iter().filter(|at| !out.contains(at));
        stays.copied().collect()
    };
    let singly = chosen.iter().map(|&at| vec![at]);
    let pairs = chosen.iter().enumerate();
    let pairs = pairs.flat_map(|(k, &a)| chosen[k + 1..].iter().map(move |&b| vec![a, b]));
    let others: Vec<usize> = (0..problem.stock.len())
        .filter(|at| !chosen.contains(at))
        .collect();
    let near = singly.chain(pairs).flat_map(|out| {
        let rest = without(&out);
        let with = |&one: &usize| [rest.clone(), vec![one]].concat();
        let mut near: Vec<Vec<usize>> = others.iter().map(with).collect();
        near.push(rest);
        near
    });
    let mut near: Vec<Vec<usize>> = near.filter(fits).collect();
    near.sort_by(|a, b| cost(a).total_cmp(&cost(b)));
    near
}
