//! Rips staves no wider than their front needs.
//!
//! Patterns have staves as wide as they may be; which of them are wider than the others leave missing shows only
//! in a plan. A narrower stave is never dearer, so this only makes a plan cheaper, or as plain as rule 10d asks.

use crate::layout::geometry::costs::Costs;
use crate::layout::heuristics::state::State;
use crate::layout::model::pattern::Pattern;
use crate::layout::model::problem::Problem;
use crate::layout::model::stock::Stock;
use crate::layout::model::together::loss;

/// A stave of a plan.
#[derive(Clone, Copy)]
struct Stave {
    board: usize,
    section: usize,
    strip: usize,
    place: usize,
    width: i64,
}

/// The plan with no stave of any front wider than need be; nothing when none is.
pub(in crate::layout) fn trim(problem: &Problem, costs: &Costs, state: &State) -> Option<State> {
    let mut boards = state.boards.clone();
    let mut trimmed = false;
    for gluing in (0..problem.gluings.len()).filter(|&gluing| state.uses(gluing)) {
        trimmed |= trim_mode(problem, costs, &mut boards, gluing);
    }
    trimmed.then(|| State::of(problem, boards))
}

fn staves(problem: &Problem, boards: &[Pattern], gluing: usize) -> Vec<Stave> {
    let item = problem.gluings[gluing].item;
    let mut staves = Vec::new();
    for (board, pattern) in boards.iter().enumerate() {
        let stock = &problem.stock[pattern.stock];
        for (section, strips) in pattern.shape.iter().enumerate() {
            for (strip, shape) in strips.iter().enumerate() {
                for place in (0..shape.items.len()).filter(|&place| shape.items[place] == item) {
                    let width = shape.blank_width(problem, stock, place);
                    staves.push(Stave {
                        board,
                        section,
                        strip,
                        place,
                        width,
                    });
                }
            }
        }
    }
    staves
}

fn trim_mode(problem: &Problem, costs: &Costs, boards: &mut [Pattern], gluing: usize) -> bool {
    let (of, step) = (&problem.gluings[gluing], problem.cuts.glue_step);
    let least = problem.items[of.item].width;
    let is_odd = |boards: &[Pattern], stave: &Stave| {
        let pattern = &boards[stave.board];
        let strips = &pattern.shape[stave.section];
        let stock: &Stock = &problem.stock[pattern.stock];
        let full =
            strips.len() == 1 && strips[0].width == stave.width && stock.is_full(stave.width);
        stave.width % step != 0 && !full
    };
    let mut trimmed = false;
    loop {
        let mut all = staves(problem, boards, gluing);
        let spare = all.iter().map(|stave| stave.width).sum::<i64>() - of.total_width;
        if spare <= 0 {
            return trimmed;
        }
        let odd = all.iter().filter(|stave| is_odd(boards, stave)).count();
        // Those of no plain width first, of them those that lose least; else the widest.
        all.sort_by_key(|stave| {
            let odd = is_odd(boards, stave);
            let lost = if odd {
                loss(stave.width, least, step)
            } else {
                0
            };
            (!odd, lost, -stave.width)
        });
        let narrower = |stave: &Stave| {
            let exact = stave.width - spare;
            let whole = (exact.max(least) + step - 1) / step * step;
            if is_odd(boards, stave) && odd > 1 {
                return (stave.width / step * step).max(whole);
            }
            // What is missing exactly, if no other stave is that.
            if exact >= least && (odd == 0 || is_odd(boards, stave)) {
                exact
            } else {
                whole
            }
        };
        let change = all.iter().find_map(|stave| {
            let width = narrower(stave);
            let better = width < stave.width;
            better
                .then(|| ripped(problem, costs, boards, *stave, width))
                .flatten()
        });
        let Some((board, pattern)) = change else {
            return trimmed;
        };
        boards[board] = pattern;
        trimmed = true;
    }
}

/// The board with one stave narrower, if it can be cut so and takes no more wood.
fn ripped(
    problem: &Problem,
    costs: &Costs,
    boards: &[Pattern],
    stave: Stave,
    width: i64,
) -> Option<(usize, Pattern)> {
    let mut pattern = boards[stave.board].clone();
    let stock = &problem.stock[pattern.stock];
    pattern.shape[stave.section][stave.strip].narrow(problem, stock, stave.place, width);
    let wood = costs.wood(problem, pattern.stock, &pattern.shape)?;
    if wood > pattern.wood + 1e-9 {
        return None;
    }
    pattern.wood = wood;
    Some((stave.board, pattern))
}
