//! Tables on sheets: columns as wide as their cells ask, rows never cut in two, the head again
//! on every sheet.

use super::flow::{FAINT, Flow};
use crate::draw::{Ink, Point, Text, Weight, stacked, text_width, wrap};
use crate::packet::document::{Column, Table};

/// Between columns, where room is short and where there is plenty.
const GAPS: (f64, f64) = (10.0, 26.0);

/// A table made ready: text cells, column widths.
struct Ready<'a> {
    table: &'a Table,
    cells: Vec<Vec<String>>,
    widths: Vec<f64>,
    gap: f64,
    size: f64,
}

impl Ready<'_> {
    fn width(&self) -> f64 {
        self.widths.iter().sum::<f64>() + self.gap * (self.widths.len() as f64 - 1.0)
    }
}

/// Adds a table below what is there.
pub fn add(flow: &mut Flow, table: &Table) {
    let size = flow.sized(8.5);
    let ruler = flow.ruler();
    let show = |row: &Vec<crate::packet::Phrase>| {
        row.iter().map(|cell| stacked(&cell.show(ruler))).collect()
    };
    let cells: Vec<Vec<String>> = table.rows.iter().map(show).collect();
    let widths = widths(table, &cells, size, flow.width());
    let left_over = flow.width() - widths.iter().sum::<f64>();
    let gap = left_over / (widths.len() as f64 - 1.0).max(1.0);
    let ready = Ready {
        table,
        cells,
        widths,
        gap: gap.clamp(GAPS.0, GAPS.1),
        size,
    };
    if table.is_headed() {
        flow.need(size * 5.0);
    } else {
        // Its rows are read across one another, and may stand far from what they belong to.
        let rows = (table.rows.len() + 1) as f64 * (size * 1.28 + 3.0);
        flow.keep_together(rows);
        flow.write_line(&table.caption, size, Weight::Bold);
        flow.y += 2.0;
    }
    head(flow, &ready);
    for i in 0..ready.cells.len() {
        row(flow, &ready, i);
    }
    flow.y += 4.0;
}

/// Natural widths if there is room, heads in one line if there is room for that too; else the
/// widest columns give way first.
fn widths(table: &Table, cells: &[Vec<String>], size: f64, room: f64) -> Vec<f64> {
    let room = room - GAPS.0 * (table.columns.len() as f64 - 1.0);
    let natural = natural_widths(table, cells, size, |head| vec![head]);
    if natural.iter().sum::<f64>() <= room {
        return natural;
    }
    let mut widths = natural_widths(table, cells, size, |head| head.split(' ').collect());
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

/// The widest cell of each column, its head broken up by `parts`.
fn natural_widths<'a>(
    table: &'a Table,
    cells: &[Vec<String>],
    size: f64,
    parts: impl Fn(&'a str) -> Vec<&'a str>,
) -> Vec<f64> {
    let columns = table.columns.iter().enumerate();
    let width = |(i, column): (usize, &'a Column)| {
        let weight = weight(table, i);
        let in_cells = cells.iter().map(|row| text_width(&row[i], size, weight));
        let in_head = parts(&column.head)
            .into_iter()
            .map(|part| text_width(part, size - 0.5, Weight::Bold));
        in_cells.chain(in_head).fold(0.0, f64::max) + 0.5
    };
    columns.map(width).collect()
}

fn weight(table: &Table, column: usize) -> Weight {
    if table.large && table.columns[column].figures {
        Weight::Bold
    } else {
        Weight::Regular
    }
}

fn head(flow: &mut Flow, ready: &Ready) {
    if !ready.table.is_headed() {
        rule(flow, ready, 0.9, Ink::BLACK);
        return;
    }
    let size = ready.size - 0.5;
    let (mut x, y) = (flow.left(), flow.y);
    let mut lines = 1;
    for (column, &width) in ready.table.columns.iter().zip(&ready.widths) {
        let words = wrap(&column.head, size, Weight::Bold, width);
        lines = lines.max(words.len());
        for (i, line) in words.into_iter().enumerate() {
            let base = y + size + i as f64 * size * 1.25;
            let text = Text::new(line, x, base, size).bold().ink(FAINT);
            let text = if column.figures {
                Text {
                    at: Point::new(x + width, base),
                    ..text
                }
                .end()
            } else {
                text
            };
            flow.sheet().text(text);
        }
        x += width + ready.gap;
    }
    flow.y += lines as f64 * size * 1.25 + 3.0;
    rule(flow, ready, 0.9, Ink::BLACK);
}

fn row(flow: &mut Flow, ready: &Ready, index: usize) {
    let size = ready.size;
    let wrapped: Vec<Vec<String>> = ready.cells[index]
        .iter()
        .enumerate()
        .map(|(i, cell)| wrap(cell, size, weight(ready.table, i), ready.widths[i]))
        .collect();
    let before_last = &wrapped[..wrapped.len().saturating_sub(1)];
    flow.torn += usize::from(before_last.iter().any(|cell| cell.len() > 1));
    let lines = wrapped.iter().map(Vec::len).max().unwrap_or(0).max(1);
    let height = lines as f64 * size * 1.28 + 3.0;
    if flow.need(height) {
        head(flow, ready);
    }
    let (mut x, y) = (flow.left(), flow.y);
    for (i, cell) in wrapped.into_iter().enumerate() {
        let width = ready.widths[i];
        for (j, line) in cell.into_iter().enumerate() {
            let base = y + 1.0 + size + j as f64 * size * 1.28;
            let text = Text {
                weight: weight(ready.table, i),
                ..Text::new(line, x, base, size)
            };
            let text = if ready.table.columns[i].figures {
                Text {
                    at: Point::new(x + width, base),
                    ..text
                }
                .end()
            } else {
                text
            };
            flow.sheet().text(text);
        }
        x += width + ready.gap;
    }
    flow.y += height;
    rule(flow, ready, 0.3, Ink::grey(150));
}

/// A line over the width of the table.
fn rule(flow: &mut Flow, ready: &Ready, width: f64, ink: Ink) {
    let (left, y) = (flow.left(), flow.y);
    let right = left + ready.width();
    flow.sheet()
        .line(Point::new(left, y), Point::new(right, y), width, ink);
}
