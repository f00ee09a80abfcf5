//! Which row of a table is which row of the same table before.

use crate::job::{Grid, GridRow};

/// The number each row of `after` had in `before`; nothing for a row that is new.
///
/// Rows that read the same, in the same order, are the same; what lies between two such rows is
/// paired by its first cell, which is its name, and where as many rows stand there as before, one
/// by one.
pub fn matched(before: &Grid, numbers: &[u64], after: &Grid) -> Vec<Option<u64>> {
    let (old, new) = (&before.rows, &after.rows);
    let old = &old[..old.len().min(numbers.len())];
    let mut found: Vec<Option<u64>> = vec![None; new.len()];
    let (mut from_old, mut from_new) = (0, 0);
    for (at_old, at_new) in same(old, new).into_iter().chain([(old.len(), new.len())]) {
        between(
            (&old[from_old..at_old], &numbers[from_old..at_old]),
            &new[from_new..at_new],
            &mut found[from_new..at_new],
        );
        if at_new < new.len() {
            found[at_new] = Some(numbers[at_old]);
        }
        (from_old, from_new) = (at_old + 1, at_new + 1);
    }
    found
}

fn between((old, numbers): (&[GridRow], &[u64]), new: &[GridRow], found: &mut [Option<u64>]) {
    if old.len() == new.len() {
        for (slot, number) in found.iter_mut().zip(numbers) {
            *slot = Some(*number);
        }
        return;
    }
    let mut left: Vec<usize> = (0..old.len()).collect();
    for (slot, row) in found.iter_mut().zip(new) {
        let named = |at: &usize| old[*at].cells.first() == row.cells.first();
        if let Some(place) = left.iter().position(named) {
            *slot = Some(numbers[left.remove(place)]);
        }
    }
}

/// Most pairs of rows that are compared; of more only beginning and end are.
const MOST: usize = 1 << 22;

/// The longest list of rows that read the same in both, in order: positions there and here.
fn same(old: &[GridRow], new: &[GridRow]) -> Vec<(usize, usize)> {
    let equal = |a: &GridRow, b: &GridRow| a.cells == b.cells;
    let head = old.iter().zip(new).take_while(|(a, b)| equal(a, b)).count();
    let (old_rest, new_rest) = (&old[head..], &new[head..]);
    let ends = old_rest.iter().rev().zip(new_rest.iter().rev());
    let tail = ends.take_while(|(a, b)| equal(a, b)).count();
    let old_mid = &old_rest[..old_rest.len() - tail];
    let new_mid = &new_rest[..new_rest.len() - tail];
    let mut pairs: Vec<(usize, usize)> = (0..head).map(|at| (at, at)).collect();
    if old_mid.len().saturating_mul(new_mid.len()) <= MOST {
        let middle = longest(old_mid, new_mid);
        pairs.extend(middle.into_iter().map(|(a, b)| (a + head, b + head)));
    }
    let ends = (0..tail).map(|at| (old.len() - tail + at, new.len() - tail + at));
    pairs.extend(ends);
    pairs
}

/// The longest common subsequence, by the usual table.
fn longest(old: &[GridRow], new: &[GridRow]) -> Vec<(usize, usize)> {
    let width = new.len() + 1;
    let mut length = vec![0_u32; (old.len() + 1) * width];
    for a in (0..old.len()).rev() {
        for b in (0..new.len()).rev() {
            length[a * width + b] = if old[a].cells == new[b].cells {
                length[(a + 1) * width + b + 1] + 1
            } else {
                length[(a + 1) * width + b].max(length[a * width + b + 1])
            };
        }
    }
    let (mut a, mut b, mut pairs) = (0, 0, Vec::new());
    while a < old.len() && b < new.len() {
        if old[a].cells == new[b].cells {
            pairs.push((a, b));
            (a, b) = (a + 1, b + 1);
        } else if length[(a + 1) * width + b] >= length[a * width + b + 1] {
            a += 1;
        } else {
            b += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(rows: &[&str]) -> Grid {
        let row = |row: &&str| GridRow {
            cells: row.split(',').map(str::to_owned).collect(),
            ..GridRow::default()
        };
        Grid {
            rows: rows.iter().map(row).collect(),
            ..Grid::default()
        }
    }

    #[test]
    fn rows_keep_their_numbers_where_they_are_found_again() {
        let before = grid(&["a,1", "b,2", "c,3", "d,4"]);
        let numbers = [10, 11, 12, 13];
        let told = |rows: &[&str]| matched(&before, &numbers, &grid(rows));
        let same = [Some(10), Some(11), Some(12), Some(13)];
        assert_eq!(told(&["a,1", "b,9", "c,3", "d,4"]), same);
        assert_eq!(told(&["a,1", "c,3", "d,4"]), [Some(10), Some(12), Some(13)]);
        assert_eq!(
            told(&["a,1", "new,0", "b,9", "c,3", "d,4"]),
            [Some(10), None, Some(11), Some(12), Some(13)]
        );
        assert_eq!(told(&[]), []);
    }
}
