//! Leaves out patterns that another one can stand in for.

use std::collections::{BTreeMap, HashMap};

use crate::layout::master::columns::Column;
use crate::layout::model::problem::Problem;
use crate::layout::model::together::{Together, may_be_stubborn};

/// What a column does in the master program, but for its cost and how wide its staves are.
#[derive(PartialEq, Eq, Hash)]
struct Deeds {
    stock: usize,
    wholes: Vec<usize>,
    /// Staves of each gluing.
    counts: Vec<(usize, usize)>,
    /// The very staves, of gluings where a wider one is not always as good.
    stubborn: Vec<(usize, i64, i64)>,
    unsure: bool,
}

/// The places of the columns none of the others can stand in for: with the same board, the same
/// stretches and as many staves, none wider together, and no cheaper. The first `unsure` stand in
/// for each other only.
pub(in crate::layout) fn undominated(
    problem: &Problem,
    columns: &[&Column],
    unsure: usize,
) -> Vec<usize> {
    let mut alike: HashMap<Deeds, Vec<usize>> = HashMap::new();
    for (place, column) in columns.iter().enumerate() {
        let mut wholes = column.wholes.clone();
        wholes.sort_unstable();
        let counts = staves(column)
            .into_iter()
            .map(|(gluing, staves)| (gluing, staves.count));
        let mut stubborn: Vec<_> = column
            .staves_with_loss()
            .filter(|stave| may_be_stubborn(problem, stave.0))
            .collect();
        stubborn.sort_unstable();
        let deeds = Deeds {
            stock: column.pattern.stock,
            wholes,
            counts: counts.collect(),
            stubborn,
            unsure: place < unsure,
        };
        alike.entry(deeds).or_default().push(place);
    }
    let mut places: Vec<usize> = alike
        .into_values()
        .flat_map(|group| best_of(columns, &group))
        .collect();
    places.sort_unstable();
    places
}

/// Those of a group that no other of it stands in for; of equals, the first.
fn best_of(columns: &[&Column], group: &[usize]) -> Vec<usize> {
    let figures: Vec<(f64, Vec<i64>)> = group
        .iter()
        .map(|&place| {
            // Beside other staves that lose more when they are ripped, its own are ripped.
            let wide = staves(columns[place])
                .into_values()
                .flat_map(|staves| staves.measures());
            (columns[place].pattern.wood, wide.collect())
        })
        .collect();
    let stands_in = |a: usize, b: usize| {
        let ((wood_a, wide_a), (wood_b, wide_b)) = (&figures[a], &figures[b]);
        let no_worse = *wood_a <= wood_b + EQUAL && wide_a.iter().zip(wide_b).all(|(a, b)| a >= b);
        let no_better = *wood_b <= wood_a + EQUAL && wide_a == wide_b;
        no_worse && (a < b || !no_better)
    };
    let all = 0..group.len();
    let kept = all
        .clone()
        .filter(|&b| !all.clone().any(|a| a != b && stands_in(a, b)));
    kept.map(|i| group[i]).collect()
}

/// The staves of each gluing, by gluing.
fn staves(column: &Column) -> BTreeMap<usize, Together> {
    let mut staves: BTreeMap<usize, Together> = BTreeMap::new();
    for (gluing, wide, lost) in column.staves_with_loss() {
        staves.entry(gluing).or_default().add(wide, lost);
    }
    staves
}

/// Costs closer than this are equal.
const EQUAL: f64 = 1e-9;
