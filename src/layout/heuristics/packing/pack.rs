//! Searches for a packing side by side.

use rayon::prelude::*;

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::packing::anneal::Annealing;
use crate::layout::heuristics::packing::task::Task;
use crate::layout::model::history::Part;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;

/// Searches side by side, and rounds between two looks at each other and at the clock.
const SIDE_BY_SIDE: u64 = 4;
const LEG: usize = 500;

/// Whether [`pack`] knows all that matters about this job: clear boards, to be used up.
pub(in crate::layout) fn knows(problem: &Problem) -> bool {
    let clear = |stock: &Stock| stock.zones.is_empty() && stock.part == Part::Board;
    problem.stock.iter().all(clear)
}

/// Patterns that cut all items from the boards, or nothing when so many rounds found none.
///
/// Searches go side by side, always as many, and stop together: so the answer is the same on any
/// number of threads.
pub(in crate::layout) fn pack(
    task: &Task,
    costs: &Costs,
    seed: u64,
    rounds: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Option<Vec<Pattern>> {
    let side = (0..SIDE_BY_SIDE).into_par_iter();
    let seed = |one: u64| seed.wrapping_mul(SIDE_BY_SIDE).wrapping_add(one);
    let mut searches: Vec<Annealing> = side.map(|one| Annealing::new(task, seed(one))).collect();
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
