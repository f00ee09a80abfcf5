//! Staves of a gluing that only a wide one makes up for.

use std::collections::BTreeSet;

use good_lp::{Expression, constraint};

use crate::layout::master::program::model::{Model, RestrictedMaster, Steps};
use crate::layout::master::program::row::Row;
use crate::layout::model::problem::Problem;

/// Each narrow stave has another beside it wide enough for both: of the staves of a gluing, those no wider than
/// some width are no more than a stave short for each that is wide enough to go with one, see
/// [`Gluing::partner`](crate::layout::model::items::Gluing::partner).
pub(in crate::layout) fn narrow_wide(
    problem: &Problem,
    restricted: &RestrictedMaster,
    model: &mut Model,
    wanted: Steps,
) {
    for (gluing, narrow) in narrow(problem, restricted) {
        let row = Row::NarrowWide(gluing, narrow);
        if !wanted(&row) {
            continue;
        }
        let wide = problem.gluings[gluing].partner(narrow);
        let others = problem.gluings[gluing].staves as f64 - 1.0;
        let mut lone = Expression::default();
        for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
            let staves = column.staves.iter().filter(|stave| stave.0 == gluing);
            let says = staves.map(|&(_, width)| {
                let gives = if width >= wide { others } else { 0.0 };
                f64::from(width <= narrow) - gives
            });
            let says: f64 = says.sum();
            if says != 0.0 {
                lone.add_mul(says, x);
            }
        }
        model.rows.push((row, constraint!(lone <= 0.0)));
    }
}

/// The widths of narrow staves, by gluing.
fn narrow(problem: &Problem, restricted: &RestrictedMaster) -> BTreeSet<(usize, i64)> {
    let staves = restricted.columns.iter().flat_map(|column| &column.staves);
    let narrow = staves.filter(|&&(gluing, width)| problem.gluings[gluing].narrow(width));
    narrow.copied().collect()
}
