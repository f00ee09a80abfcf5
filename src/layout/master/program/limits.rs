//! The maker's limits, and what fractions of patterns may not do together.

use std::collections::BTreeMap;

use good_lp::{Expression, constraint};

use crate::layout::master::program::model::{
    Model, RestrictedMaster, Steps, height, heights, most_stretches,
};
use crate::layout::master::program::row::Row;
use crate::layout::model::problem::Problem;

/// The maker's limits, each to be overstepped at a price only.
pub(in crate::layout) fn limits(
    problem: &Problem,
    restricted: &RestrictedMaster,
    model: &mut Model,
) {
    let [over_breaks, over_feet, over_tone] = model.excess;
    if let Some(most) = problem.limits.most_breaks {
        let mut stretches: Expression = -1.0 * over_breaks;
        for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
            stretches.add_mul(column.wholes.len() as f64, x);
        }
        for &x in model.glued.iter().flatten() {
            stretches.add_mul(1.0, x);
        }
        let most = most_stretches(problem, most);
        model
            .rows
            .push((Row::MostBreaks, constraint!(stretches <= most)));
    }
    if let Some(most) = problem.limits.most_feet {
        let mut feet: Expression = -1.0 * over_feet;
        for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
            feet.add_mul(column.pattern.wood, x);
        }
        let most = most.value();
        model.rows.push((Row::MostFeet, constraint!(feet <= most)));
    }
    if let Some(most) = problem.limits.tone_within {
        let case = problem.runs.len();
        let mut spread: Expression = -1.0 * over_tone;
        for step in 0..model.below[case].len() {
            spread.add_mul(height(problem, step), model.below[case][step]);
            spread.add_mul(height(problem, step), model.above[case][step]);
        }
        let most = most + heights(problem);
        model
            .rows
            .push((Row::ToneWithin, constraint!(spread <= most)));
    }
}

/// A board of which there is one gives a gluing staves no more than once.
pub(in crate::layout) fn once(restricted: &RestrictedMaster, model: &mut Model, wanted: Steps) {
    let mut used: BTreeMap<(usize, usize), Expression> = BTreeMap::new();
    for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
        for gluing in column.gluings() {
            let board = column.pattern.stock;
            if wanted(&Row::Once(gluing, board)) {
                used.entry((gluing, board)).or_default().add_mul(1.0, x);
            }
        }
    }
    for ((gluing, board), used) in used {
        if let Some(glued) = model.glued[gluing] {
            let row = Row::Once(gluing, board);
            model.rows.push((row, constraint!(used - glued <= 0.0)));
        }
    }
}

/// Of the rows of a cut, one pattern at most takes two.
pub(in crate::layout) fn subset_rows(
    problem: &Problem,
    restricted: &RestrictedMaster,
    model: &mut Model,
) {
    for (index, cut) in restricted.extra.subset_rows.iter().enumerate() {
        let mut pairs = Expression::default();
        for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
            if cut.pairs(problem, column) {
                pairs.add_mul(1.0, x);
            }
        }
        for (gluing, x) in model.glued.iter().enumerate() {
            if let Some(x) = *x
                && cut.pairs_glued(&problem.gluings[gluing].rows)
            {
                pairs.add_mul(1.0, x);
            }
        }
        let within = constraint!(pairs <= 1.0);
        model.rows.push((Row::Subset(index), within));
    }
}

/// Patterns give as many units of staves as the gluings in use ask for.
pub(in crate::layout) fn rounding(restricted: &RestrictedMaster, model: &mut Model) {
    for (index, rounding) in restricted.extra.rounding.iter().enumerate() {
        let mut given = Expression::default();
        for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
            let units = rounding.given(column.staves.iter().copied());
            if units > 0 {
                given.add_mul(units as f64, x);
            }
        }
        for &(gluing, asks) in &rounding.asks {
            if let Some(x) = model.glued[gluing] {
                given.add_mul(-asks as f64, x);
            }
        }
        let enough = constraint!(given >= 0.0);
        model.rows.push((Row::Rounding(index), enough));
    }
}

/// Sides of tone steps that runs are put on.
pub(in crate::layout) fn board_sides(
    problem: &Problem,
    restricted: &RestrictedMaster,
    model: &mut Model,
) {
    for (index, side) in restricted.extra.sides.iter().enumerate() {
        let sides = if side.below {
            &model.below
        } else {
            &model.above
        };
        let mut cut: Expression = -1.0 * sides[side.run][side.step];
        for (column, &x) in restricted.columns.iter().zip(&model.patterns) {
            let says = side.says(problem, column);
            if says > 0.0 {
                cut.add_mul(says, x);
            }
        }
        model.rows.push((Row::Side(index), constraint!(cut <= 0.0)));
    }
}
