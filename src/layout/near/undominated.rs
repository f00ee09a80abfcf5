//! Leaves out patterns that another one can stand in for.

use std::collections::HashMap;

use super::super::master::Column;

/// What a column does in the master program, but for its cost and how wide its staves are.
type Deeds = (usize, Vec<usize>, Vec<(usize, usize)>, bool);

/// The places of the columns none of the others can stand in for: with the same board, the same
/// stretches and as many staves, none wider together, and no cheaper. The first `unsure` stand in
/// for each other only.
pub(super) fn undominated(columns: &[&Column], unsure: usize) -> Vec<usize> {
    let mut alike: HashMap<Deeds, Vec<usize>> = HashMap::new();
    for (place, column) in columns.iter().enumerate() {
        let mut wholes = column.wholes.clone();
        wholes.sort_unstable();
        let counts = widths(column)
            .into_iter()
            .map(|(mode, (count, _))| (mode, count));
        let deeds = (
            column.pattern.stock,
            wholes,
            counts.collect(),
            place < unsure,
        );
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
            let wide = widths(columns[place])
                .into_iter()
                .map(|(_, (_, wide))| wide);
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

/// Staves of each mode and how wide they are together, by mode.
fn widths(column: &Column) -> Vec<(usize, (usize, i64))> {
    let mut widths: Vec<(usize, (usize, i64))> = Vec::new();
    let mut staves = column.staves.clone();
    staves.sort_unstable();
    for (mode, width) in staves {
        match widths.last_mut() {
            Some((last, (count, wide))) if *last == mode => {
                *count += 1;
                *wide += width;
            }
            _ => widths.push((mode, (1, width))),
        }
    }
    widths
}

/// Costs closer than this are equal.
const EQUAL: f64 = 1e-9;
