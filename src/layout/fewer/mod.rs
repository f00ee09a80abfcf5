//! Packs fronts into given boards: a search that asks only whether they all fit.
//!
//! Where a plan costs so many whole boards, one plan is as dear as the next until a board less will
//! do, so the cost says nothing about the way there. This search is given too few boards on purpose
//! and leaves fronts out; what is left out, and what wood is lost to waste where nothing fits, is
//! what it brings down by ruin and recreate, under simulated annealing. (Fewer vehicles are found
//! the same way in Christiaens, Vanden Berghe (2020), Slack induction by string removals,
//! Transportation Sci. 54.)

mod anneal;
mod sheet;

use std::sync::Arc;

use rayon::prelude::*;

use super::Part;
use super::pattern::{Costs, Pattern};
use super::problem::{Problem, Stock};
use anneal::Search;
use sheet::{Blank, Sheet};

/// Searches side by side, and rounds between two looks at each other and at the clock.
const SIDE_BY_SIDE: u64 = 4;
const LEG: usize = 500;

/// What is to be packed, and into what.
pub(super) struct Task<'t, 'a> {
    pub(super) problem: &'t Problem<'a>,
    /// One-piece items to be cut, each once.
    pub(super) items: Vec<usize>,
    /// Kinds of the boards to cut them from, one entry a board.
    pub(super) boards: Vec<usize>,
}

/// Sheets, and what none of them holds.
#[derive(Clone)]
struct Packing<'s> {
    sheets: Vec<Arc<Sheet<'s>>>,
    out: Vec<Blank>,
}

/// Whether [`pack`] knows all that matters about this job: clear boards, to be used up.
pub(super) fn knows(problem: &Problem) -> bool {
    let clear = |stock: &Stock| stock.zones.is_empty() && stock.part == Part::Board;
    problem.stock.iter().all(clear)
}

/// Patterns that cut all items from the boards, or nothing when so many rounds found none.
///
/// Searches go side by side, always as many, and stop together: so the answer is the same on any
/// number of threads.
pub(super) fn pack(
    task: &Task,
    costs: &Costs,
    seed: u64,
    rounds: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Option<Vec<Pattern>> {
    let side = (0..SIDE_BY_SIDE).into_par_iter();
    let seed = |one: u64| seed.wrapping_mul(SIDE_BY_SIDE).wrapping_add(one);
    let mut searches: Vec<Search> = side.map(|one| Search::new(task, seed(one))).collect();
    for leg in 0..rounds.div_ceil(LEG) {
        if let Some(found) = searches.iter().find(|search| search.now.out.is_empty()) {
            return found.now.patterns(task.problem, costs);
        }
        if stop() {
            return None;
        }
        searches.par_iter_mut().for_each(|search| {
            let legs = leg * LEG..(leg + 1) * LEG;
            for round in legs {
                if search.now.out.is_empty() {
                    return;
                }
                search.round(round as f64 / rounds as f64);
            }
        });
    }
    None
}

impl<'s> Packing<'s> {
    fn patterns(&self, problem: &Problem, costs: &Costs) -> Option<Vec<Pattern>> {
        let used = self
            .sheets
            .iter()
            .filter(|sheet| !sheet.sections.is_empty());
        used.map(|sheet| {
            let shape = sheet.shape();
            // Sheets know of clear boards all there is to know.
            let stock = sheet.stock.board;
            let wood = costs.wood(problem, stock, &shape)?;
            Some(Pattern { stock, shape, wood })
        })
        .collect()
    }
}
