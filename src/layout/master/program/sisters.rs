//! Staves of a mode that only a wide sister makes up for.

use std::collections::BTreeSet;

use good_lp::{Expression, constraint};

use crate::layout::master::program::model::{Model, Over, Steps};
use crate::layout::master::program::row::Row;
use crate::layout::model::problem::Problem;

/// Each narrow stave has a sister wide enough for both: of the staves of a mode, those no wider than
/// some width are no more than a stave short for each that is wide enough to go with one, see
/// [`Mode::sister`](crate::layout::model::items::Mode::sister).
pub(in crate::layout) fn sisters(problem: &Problem, over: &Over, model: &mut Model, wanted: Steps) {
    for (mode, narrow) in narrow(problem, over) {
        let row = Row::Sister(mode, narrow);
        if !wanted(&row) {
            continue;
        }
        let wide = problem.modes[mode].sister(narrow);
        let others = problem.modes[mode].staves as f64 - 1.0;
        let mut lone = Expression::default();
        for (column, &x) in over.columns.iter().zip(&model.patterns) {
            let staves = column.staves.iter().filter(|stave| stave.0 == mode);
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

/// The widths of narrow staves, by mode.
fn narrow(problem: &Problem, over: &Over) -> BTreeSet<(usize, i64)> {
    let staves = over.columns.iter().flat_map(|column| &column.staves);
    let narrow = staves.filter(|&&(mode, width)| problem.modes[mode].narrow(width));
    narrow.copied().collect()
}
