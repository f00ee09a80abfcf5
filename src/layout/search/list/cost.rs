//! What a plan of columns costs.

use crate::layout::master::columns::Column;
use crate::layout::model::mixed::Mixed;
use crate::layout::model::problem::Problem;
use crate::layout::model::worths::Counted;

/// What a plan costs at least that makes every front that can be made: all of
/// [`State::cost`](crate::layout::heuristics::state::State::cost) but for limits it goes over, without a state.
pub(in crate::layout) fn cost(problem: &Problem, plan: &[&Column]) -> f64 {
    let mut mixed = Mixed::new(problem);
    let (mut wood, mut stretches, mut glue_lines) = (0.0, 0, 0);
    let mut ends: Vec<Option<(usize, usize)>> = vec![None; problem.runs.len()];
    for (i, column) in plan.iter().enumerate() {
        wood += column.pattern.wood;
        stretches += column.wholes.len();
        let before = |gluing: usize| {
            plan[..i]
                .iter()
                .any(|other| other.gluings().any(|m| m == gluing))
        };
        for gluing in column.gluings().filter(|&gluing| !before(gluing)) {
            let m = &problem.gluings[gluing];
            stretches += 1;
            glue_lines += (m.staves - 1) * m.rows.len();
        }
        let tone = problem.stock[column.pattern.stock].tone;
        for &run in &column.runs {
            let (low, high) = ends[run].unwrap_or((tone, tone));
            ends[run] = Some((low.min(tone), high.max(tone)));
            mixed.add(run, problem.labels(&problem.stock[column.pattern.stock]));
        }
    }
    let spread = |&(low, high): &(usize, usize)| problem.tones[high] - problem.tones[low];
    let runs = || ends.iter().flatten();
    let case = runs().copied().reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
    let unmade = problem.hopeless.iter().enumerate();
    let unmade: f64 = (unmade.filter(|(_, hopeless)| **hopeless))
        .map(|(row, _)| problem.unmade(row))
        .sum();
    let counted = Counted {
        breaks: (stretches - runs().count()) as f64,
        run_spreads: runs().map(spread).sum(),
        case_spread: case.as_ref().map_or(0.0, spread),
        glue_lines: glue_lines as f64,
        mixed: mixed.beyond_first(),
    };
    problem.worth.cost(wood, &counted) + unmade
}
