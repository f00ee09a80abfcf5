//! Puts stretches on boards one after another, each where it costs least.

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::spots::{Spot, begun, fresh, spots};
use crate::layout::heuristics::state::State;
use crate::layout::model::problem::Problem;

/// Fronts of a job whose first plan takes long enough that time may be up before it is made.
const MANY: usize = 300;

/// Makes as much of the rows `from..to` (all of one run, none covered) as finds a place.
///
/// In one stretch when that is cheapest, else in two, else the longest part that fits and then
/// the rest.
pub(in crate::layout) fn insert_rows(
    problem: &Problem,
    costs: &Costs,
    state: &mut State,
    from: usize,
    to: usize,
) {
    if from >= to {
        return;
    }
    let whole = cheapest_of(problem, costs, state, from, to);
    // No break is worth a look that by itself costs more than the whole stretch.
    let cheap = whole
        .as_ref()
        .is_some_and(|w| w.1 <= problem.worth.unbroken);
    let pair = (from + 1..if cheap { from + 1 } else { to })
        .filter_map(|at| {
            let left = cheapest_of(problem, costs, state, from, at)?;
            let right = cheapest_of(problem, costs, state, at, to)?;
            let both = left.1 + right.1 + problem.worth.unbroken;
            Some((both, at))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0));
    match (whole, pair) {
        (Some((way, rise)), pair) if pair.is_none_or(|p| rise <= p.0) => {
            put(problem, costs, state, &way);
        }
        (_, Some((_, at))) => {
            insert_rows(problem, costs, state, from, at);
            insert_rows(problem, costs, state, at, to);
        }
        _ => insert_longest(problem, costs, state, from, to),
    }
}

fn insert_longest(problem: &Problem, costs: &Costs, state: &mut State, from: usize, to: usize) {
    for length in (1..to - from).rev() {
        for first in from..=to - length {
            if let Some((way, _)) = cheapest_of(problem, costs, state, first, first + length) {
                put(problem, costs, state, &way);
                insert_rows(problem, costs, state, from, first);
                insert_rows(problem, costs, state, first + length, to);
                return;
            }
        }
    }
}

/// A way to make a stretch: in one piece, or glued from staves of these widths.
enum Way {
    Whole(usize),
    Glued(usize, Vec<i64>),
}

/// The cheapest way to cover exactly these rows and what that adds to the cost.
fn cheapest_of(
    problem: &Problem,
    costs: &Costs,
    state: &State,
    from: usize,
    to: usize,
) -> Option<(Way, f64)> {
    let whole = problem.starts[from]
        .clone()
        .find(|&i| problem.items[i].rows.end == to);
    let mut best = whole.and_then(|item| {
        let width = problem.items[item].width;
        let (_, rise) = best_spot(problem, costs, state, item, width)?;
        Some((Way::Whole(item), rise))
    });
    for &gluing in &problem.glued_starts[from] {
        if problem.gluings[gluing].rows.end != to {
            continue;
        }
        let lines = (problem.gluings[gluing].staves - 1) * (to - from);
        let glue = problem.worth.glue_line * lines as f64;
        if best.as_ref().is_some_and(|(_, rise)| *rise <= glue) {
            continue;
        }
        for widths in splits(problem, state, gluing) {
            let mut trial = state.clone();
            let Some(rise) = glue_up(problem, costs, &mut trial, gluing, &widths) else {
                continue;
            };
            if best.as_ref().is_none_or(|(_, least)| rise + glue < *least) {
                best = Some((Way::Glued(gluing, widths), rise + glue));
            }
        }
    }
    best
}

/// Stave widths worth trying: equal ones, and one stave as wide as some board allows with the
/// rest shared equally; one of the equal ones is just what the others leave missing.
fn splits(problem: &Problem, state: &State, gluing: usize) -> Vec<Vec<i64>> {
    let m = &problem.gluings[gluing];
    let (least, step) = (problem.items[m.item].width, problem.cuts.glue_step);
    let whole = |wide: i64| (wide + step - 1) / step * step;
    let share =
        |total: i64, parts: usize| whole(((total + parts as i64 - 1) / parts as i64).max(least));
    let mut firsts = vec![share(m.total_width, m.staves)];
    for (stock, &left) in problem.stock.iter().zip(&state.left) {
        let widest = stock.widest[m.item];
        let widest = if stock.is_full(widest) {
            widest
        } else {
            widest / step * step
        };
        if left > 0 && widest >= least {
            firsts.push(widest);
        }
    }
    firsts.sort_unstable();
    firsts.dedup();
    firsts
        .into_iter()
        .map(|first| {
            let rest = share(m.total_width - first, m.staves - 1);
            let mut widths = vec![rest; m.staves];
            widths[0] = first;
            let others: i64 = widths[..m.staves - 1].iter().sum();
            let missing = m.total_width - others;
            widths[m.staves - 1] = if missing >= least {
                missing
            } else {
                whole(least)
            };
            widths
        })
        .collect()
}

/// Cuts all staves of a gluing; what the wood and the tones add, or nothing (and a state not to be
/// used) when one finds no place, or when they are too narrow together as they lie (rule 10d).
fn glue_up(
    problem: &Problem,
    costs: &Costs,
    state: &mut State,
    gluing: usize,
    widths: &[i64],
) -> Option<f64> {
    let item = problem.gluings[gluing].item;
    let mut total = 0.0;
    for &width in widths {
        let (spot, rise) = best_spot(problem, costs, state, item, width)?;
        total += rise;
        settle(problem, costs, state, item, spot)?;
    }
    state.may_be_glued(problem, gluing).then_some(total)
}

/// Makes a stretch the given way.
fn put(problem: &Problem, costs: &Costs, state: &mut State, way: &Way) {
    match way {
        Way::Whole(item) => {
            let width = problem.items[*item].width;
            if let Some((spot, _)) = best_spot(problem, costs, state, *item, width) {
                settle(problem, costs, state, *item, spot);
            }
        }
        Way::Glued(gluing, widths) => {
            let mut trial = state.clone();
            if glue_up(problem, costs, &mut trial, *gluing, widths).is_some() {
                *state = trial;
            }
        }
    }
}

fn settle(
    problem: &Problem,
    costs: &Costs,
    state: &mut State,
    item: usize,
    spot: Spot,
) -> Option<()> {
    let wood = costs.wood(problem, spot.stock, &spot.shape)?;
    match spot.board {
        Some(board) => state.extend(problem, board, item, spot.shape, wood),
        None => state.open(problem, spot.stock, item, spot.shape, wood),
    }
    Some(())
}

/// The spot for a blank `width` wide that adds least to the cost, and how much it adds.
fn best_spot(
    problem: &Problem,
    costs: &Costs,
    state: &State,
    item: usize,
    width: i64,
) -> Option<(Spot, f64)> {
    if problem.chain.len() > MANY && problem.patience.is_over() {
        return first_spot(problem, costs, state, item, width);
    }
    let mut spots = spots(problem, state, item, width);
    spots.sort_by(|a, b| a.rise.total_cmp(&b.rise));
    let mut best: Option<(Spot, f64)> = None;
    for spot in spots {
        if best.as_ref().is_some_and(|(_, rise)| *rise <= spot.rise) {
            break;
        }
        let Some(wood) = costs.wood(problem, spot.stock, &spot.shape) else {
            continue;
        };
        let before = spot.board.map_or(0.0, |b| state.boards[b].wood);
        let run = problem.items[item].run;
        let rise = wood - before + state.look_rise(problem, run, spot.stock);
        if best.as_ref().is_none_or(|(_, least)| rise < *least) {
            best = Some((spot, rise));
        }
    }
    best
}

/// A spot that does, on the board begun last if there is one, and how much it adds to the cost: for the fronts
/// of large jobs that have none yet when time is up.
fn first_spot(
    problem: &Problem,
    costs: &Costs,
    state: &State,
    item: usize,
    width: i64,
) -> Option<(Spot, f64)> {
    let run = problem.items[item].run;
    let boards = (0..state.boards.len()).rev();
    let begun = begun(problem, state, boards, item, width);
    let mut spots = begun.chain(fresh(problem, state, item, width));
    spots.find_map(|spot| {
        let wood = costs.wood(problem, spot.stock, &spot.shape)?;
        let before = spot.board.map_or(0.0, |b| state.boards[b].wood);
        let rise = wood - before + state.look_rise(problem, run, spot.stock);
        Some((spot, rise))
    })
}

#[cfg(test)]
mod tests {
    use crate::job::generate::{Size, generate};
    use crate::layout::{Limits, Request, Watch};

    struct Impatient;

    impl Watch for Impatient {
        fn stop(&self) -> bool {
            true
        }
    }

    /// Where there is wood enough for all, each front finds the first place that does.
    #[test]
    fn many_fronts_find_places_even_when_time_is_up_before_they_are_looked_for() {
        let job = generate(Size::new(320, 80, 400), 1);
        assert!(job.fronts.len() > super::MANY);
        let plan = crate::layout::plan(&job, &Request::default(), &Impatient);
        crate::plan::check(&job, &plan, false, &Limits::default()).unwrap();
        let made = plan.totals.made;
        assert!(made * 10 > job.fronts.len() * 9, "{made} made");
    }
}
