//! Trades width between the staves of a front where that keeps more wood.
//!
//! The staves of a front must be wide enough together, each may be of any width. Patterns have the
//! widths that their own board suggests (see `price::heights`); which are best together shows only
//! once a plan says which boards a front is glued from.

use super::geometry::edge;
use super::pattern::{Costs, Pattern};
use super::place::outline;
use super::problem::Problem;
use super::state::State;

/// Trades made at most: each saves wood, so there is an end to them anyway.
const MOST: usize = 100;
/// Least saving worth a trade.
const SAVED: f64 = 1e-9;

/// A strip that holds staves of one mode and nothing else.
#[derive(Clone, Copy, PartialEq)]
struct Place {
    board: usize,
    section: usize,
    strip: usize,
    /// Staves in it.
    count: i64,
    width: i64,
}

/// A better plan with the same pieces from the same boards, if there is one.
pub(super) fn trade(problem: &Problem, costs: &Costs, state: &State) -> Option<State> {
    let mut boards = state.boards.clone();
    let mut traded = false;
    for _ in 0..MOST {
        let mut modes = (0..problem.modes.len()).filter(|&mode| state.uses(mode));
        let Some(better) = modes.find_map(|mode| trade_of(problem, costs, &boards, mode)) else {
            break;
        };
        (boards, traded) = (better, true);
    }
    traded.then(|| State::of(problem, boards))
}

/// The first trade between staves of a mode that saves wood.
fn trade_of(
    problem: &Problem,
    costs: &Costs,
    boards: &[Pattern],
    mode: usize,
) -> Option<Vec<Pattern>> {
    let staves = boards.iter().flat_map(|p| p.staves(problem));
    let wide: i64 = staves.filter(|s| s.0 == mode).map(|s| s.1).sum();
    let spare = (wide - problem.modes[mode].total_width).max(0);
    let places = places(problem, boards, mode);
    let pairs = places
        .iter()
        .flat_map(|&a| places.iter().map(move |&b| (a, b)));
    let both = pairs.filter(|(a, b)| a != b);
    let mut trades = both.flat_map(|(wider, narrower)| {
        widths(problem, boards, mode, (wider, narrower), spare)
            .into_iter()
            .map(move |(more, less)| vec![(wider, more), (narrower, less)])
    });
    let saves = |change: Vec<(Place, i64)>| cheaper(problem, costs, boards, &change);
    let trimmed = |place: &Place| {
        let least = problem.items[problem.modes[mode].item].width;
        let less = (place.width - spare / place.count).max(least);
        saves(vec![(*place, less)])
    };
    let trim = || {
        (spare > 0)
            .then(|| places.iter().find_map(trimmed))
            .flatten()
    };
    trades.find_map(saves).or_else(trim)
}

fn places(problem: &Problem, boards: &[Pattern], mode: usize) -> Vec<Place> {
    let item = problem.modes[mode].item;
    let mut places = Vec::new();
    for (board, pattern) in boards.iter().enumerate() {
        for (section, strips) in pattern.shape.iter().enumerate() {
            for (strip, shape) in strips.iter().enumerate() {
                if shape.narrower.is_empty() && shape.items.iter().all(|&i| i == item) {
                    places.push(Place {
                        board,
                        section,
                        strip,
                        count: shape.items.len() as i64,
                        width: shape.width,
                    });
                }
            }
        }
    }
    places
}

/// Widths two strips may have instead: one as wide as there is room or an edge to keep allows and
/// the other as narrow as that makes it, or the other just so narrow that its edge can be kept.
fn widths(
    problem: &Problem,
    boards: &[Pattern],
    mode: usize,
    (wider, narrower): (Place, Place),
    spare: i64,
) -> Vec<(i64, i64)> {
    let least = problem.items[problem.modes[mode].item].width;
    let may = |place: Place, width: i64| {
        let widest = problem.stock[boards[place.board].stock].widest[problem.modes[mode].item];
        (least..=widest.min(problem.modes[mode].widest)).contains(&width)
    };
    let given = natural(problem, boards, wider).into_iter().map(|more| {
        let gained = (more - wider.width) * wider.count + spare;
        (more, (narrower.width - gained / narrower.count).max(least))
    });
    let taken = natural(problem, boards, narrower).into_iter().map(|less| {
        let lost = ((narrower.width - less) * narrower.count - spare).max(0);
        (wider.width + (lost + wider.count - 1) / wider.count, less)
    });
    let both = given.chain(taken);
    both.filter(|&(more, less)| more > wider.width && less < narrower.width)
        .filter(|&(more, less)| may(wider, more) && may(narrower, less))
        .collect()
}

/// How wide a strip can be with all the room beside it, and with an edge left just wide enough to
/// keep.
fn natural(problem: &Problem, boards: &[Pattern], place: Place) -> Vec<i64> {
    let pattern = &boards[place.board];
    let (stock, cuts) = (&problem.stock[pattern.stock], &problem.cuts);
    let (long, wide) = outline(problem, &pattern.shape)[place.section];
    let loss = stock.edge_loss(cuts, long);
    let full = stock.width - 2 * loss;
    let mut ends = vec![full];
    if cuts.keep_length.is_some() {
        let kept = stock.width - loss - cuts.rip - cuts.keep_width;
        ends.extend(
            [kept, kept - 1]
                .into_iter()
                .filter(|&wide| edge(stock, cuts, wide, long) > 0),
        );
    }
    ends.into_iter()
        .map(|end| place.width + end - wide)
        .collect()
}

/// The boards with strips of other widths, if that saves wood.
fn cheaper(
    problem: &Problem,
    costs: &Costs,
    boards: &[Pattern],
    change: &[(Place, i64)],
) -> Option<Vec<Pattern>> {
    let mut changed = boards.to_vec();
    for (place, width) in change {
        changed[place.board].shape[place.section][place.strip].width = *width;
    }
    for (place, _) in change {
        let board = &mut changed[place.board];
        board.wood = costs.wood(problem, board.stock, &board.shape)?;
    }
    let wood = |boards: &[Pattern]| boards.iter().map(|p| p.wood).sum::<f64>();
    (wood(&changed) < wood(boards) - SAVED).then_some(changed)
}
