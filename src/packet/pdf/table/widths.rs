//! How wide the columns of a table are.

use super::{cell_size, head, weight};
use crate::draw::{Weight, text_width};
use crate::packet::document::Table;

/// As wide as cells and heads ask; heads read at the bench word below word.
pub fn natural(table: &Table, cells: &[Vec<String>], size: f64) -> Vec<f64> {
    match table.bench {
        true => of_cells(table, cells, size, |head| head.split(' ').collect()),
        false => of_cells(table, cells, size, |head| vec![head]),
    }
}

/// Natural widths if there is room, heads in one line if there is room for that too; else the
/// widest columns give way first.
pub fn widths(
    table: &Table,
    cells: &[Vec<String>],
    size: f64,
    (room, gap): (f64, f64),
) -> Vec<f64> {
    let room = room - gap * (table.columns.len() as f64 - 1.0);
    let natural = natural(table, cells, size);
    if natural.iter().sum::<f64>() <= room {
        return natural;
    }
    let mut widths = of_cells(table, cells, size, |head| head.split(' ').collect());
    // Lower the widest to a common limit until all fit.
    let fits = |limit: f64| widths.iter().map(|w| w.min(limit)).sum::<f64>() <= room;
    let widest = widths.iter().copied().fold(0.0, f64::max);
    let (mut low, mut high) = (0.0, widest);
    if !fits(high) {
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if fits(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        for width in &mut widths {
            *width = width.min(low);
        }
    }
    widths
}

/// The widest cell of each column, its head broken up by `parts`; columns with something in common
/// are wide enough for its name.
fn of_cells<'a>(
    table: &'a Table,
    cells: &[Vec<String>],
    size: f64,
    parts: impl Fn(&'a str) -> Vec<&'a str>,
) -> Vec<f64> {
    let of_head = head::size(table, size);
    let columns = table.columns.iter().enumerate();
    let width = |(i, column): (usize, &'a crate::packet::document::Column)| {
        let (weight, size) = (weight(table, i), cell_size(table, i, size));
        let in_cells = cells.iter().map(|row| text_width(&row[i], size, weight));
        let in_head = parts(&column.head)
            .into_iter()
            .map(|part| text_width(part, of_head, Weight::Bold));
        in_cells.chain(in_head).fold(0.0, f64::max) + 0.5
    };
    let mut widths: Vec<f64> = columns.map(width).collect();
    for (from, to, group) in head::groups(table) {
        let wide: f64 = widths[from..to].iter().sum::<f64>() + 7.0 * (to - from - 1) as f64;
        let lacks = text_width(group, of_head, Weight::Bold) + 1.0 - wide;
        if lacks > 0.0 {
            let each = lacks / (to - from) as f64;
            widths[from..to].iter_mut().for_each(|width| *width += each);
        }
    }
    widths
}
