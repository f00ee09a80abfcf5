//! Looks for glued stretches whose staves come from fewer boards, by fractions, than whole ones can be.

use crate::layout::master::columns::Column;
use crate::layout::master::solved::Solved;
use crate::layout::model::problem::Problem;
use crate::layout::pricing::rounding_cut::RoundingCut;

/// Least share of a gluing, and of a pattern, worth looking at.
const GLUED: f64 = 0.1;
const USED: f64 = 1e-4;
/// Units that must be lacking: with more rows that are hardly broken, pricing takes longer than they are
/// worth.
const LACKING: f64 = 0.4;
/// Entered at a time.
const MOST: usize = 6;

/// Gluings that get fewer units of staves than they ask for, those most so first.
pub(in crate::layout) fn violated_rounding(
    problem: &Problem,
    columns: &[&Column],
    solved: &Solved,
) -> Vec<RoundingCut> {
    let shares = columns.iter().zip(&solved.shares);
    let used = shares.filter(|(column, share)| **share > USED && !column.staves.is_empty());
    let used: Vec<(&Column, f64)> = used.map(|(column, share)| (*column, *share)).collect();
    let sets = sets(problem, &solved.glued);
    let worst = sets
        .into_iter()
        .filter_map(|(first, other)| worst(problem, &used, &solved.glued, first, other));
    let mut found: Vec<(f64, RoundingCut)> =
        worst.filter(|(lacking, _)| *lacking > LACKING).collect();
    found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    found.dedup_by(|b, a| a.1 == b.1);
    found.truncate(MOST);
    found.into_iter().map(|(_, rounding)| rounding).collect()
}

/// The gluings in use, each by itself and with each other one of other fronts.
fn sets(problem: &Problem, glued: &[f64]) -> Vec<(usize, Option<usize>)> {
    let used: Vec<usize> = (0..glued.len())
        .filter(|&gluing| glued[gluing] > GLUED)
        .collect();
    let apart = |a: usize, b: usize| {
        let (a, b) = (&problem.gluings[a].rows, &problem.gluings[b].rows);
        a.end <= b.start || b.end <= a.start
    };
    let with = |&first: &usize| {
        let others = used.iter().copied().filter(move |&b| apart(first, b));
        let others: Vec<usize> = others.collect();
        let pairs = others.into_iter().map(move |other| (first, Some(other)));
        std::iter::once((first, None)).chain(pairs)
    };
    used.iter().flat_map(with).collect()
}

/// The unit by which most is lacking, and how many of it; one stave alone is no more than one.
fn worst(
    problem: &Problem,
    used: &[(&Column, f64)],
    glued: &[f64],
    first: usize,
    other: Option<usize>,
) -> Option<(f64, RoundingCut)> {
    let of = |gluing: usize| gluing == first || Some(gluing) == other;
    let given = used.iter().map(|(column, share)| {
        let staves = column.staves.iter().filter(|stave| of(stave.0));
        (staves.map(|stave| stave.1).sum::<i64>(), *share)
    });
    let given: Vec<(i64, f64)> = given.collect();
    let gluings = [first].into_iter().chain(other);
    let widest = gluings.map(|gluing| problem.gluings[gluing].widest).max();
    let mut units: Vec<i64> = given.iter().map(|&(wide, _)| wide).collect();
    units.retain(|&unit| unit > 0 && Some(unit) >= widest);
    units.sort_unstable();
    units.dedup();
    let lacking = |unit: i64| {
        let rounding = RoundingCut::new(problem, first, other, unit);
        let given = given.iter();
        let given: f64 = given
            .map(|&(wide, share)| rounding.units(wide) as f64 * share)
            .sum();
        let asks = rounding.asks.iter();
        let asked: f64 = asks
            .map(|&(gluing, asks)| asks as f64 * glued[gluing])
            .sum();
        (asked - given, rounding)
    };
    let all = units.into_iter().map(lacking);
    all.max_by(|a, b| a.0.total_cmp(&b.0))
}
