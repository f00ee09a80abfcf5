//! Tables on sheets: columns as wide as their cells ask, rows never cut in two, the head again
//! on every sheet. A long narrow table runs down several columns of the sheet.

mod head;
mod widths;

use super::flow::Flow;
use crate::draw::{BENCH, Ink, Point, SLASH, Text, Weight, reach, stacked, wrap};
use crate::packet::document::Table;

/// Between columns, where room is short and where there is plenty.
const GAPS: (f64, f64) = (10.0, 26.0);
/// The same where figures are read at the bench.
const BENCH_GAPS: (f64, f64) = (7.0, 22.0);
/// Between the parts of a table that stand side by side.
const BESIDE: f64 = 20.0;
/// No more parts than this stand side by side, and none is shorter than so many rows.
const MOST: usize = 5;
const LEAST_ROWS: usize = 3;
/// A table is begun only where so many rows fit below its head.
const BEGUN: usize = 3;
/// Words of tables.
const WORDS: f64 = 8.5;
/// Words of tables read at the bench, whatever the style.
const BENCH_WORDS: f64 = 9.0;

/// A table made ready: text cells, column widths.
struct Ready<'a> {
    table: &'a Table,
    cells: Vec<Vec<String>>,
    widths: Vec<f64>,
    gap: f64,
    /// Size of words.
    size: f64,
}

impl Ready<'_> {
    fn width(&self) -> f64 {
        self.widths.iter().sum::<f64>() + self.gap * (self.widths.len() as f64 - 1.0)
    }

    /// Size of a column's cells.
    fn cell_size(&self, column: usize) -> f64 {
        cell_size(self.table, column, self.size)
    }

    /// The cells of a row in lines.
    fn lines(&self, row: usize) -> Vec<Vec<String>> {
        let cells = self.cells[row].iter().enumerate();
        let lines = cells.map(|(i, cell)| {
            let weight = weight(self.table, i);
            wrap(cell, self.cell_size(i), weight, self.widths[i])
        });
        lines.collect()
    }

    /// How far a row reaches above and below the base line of its first line.
    fn row_height(&self, lines: &[Vec<String>]) -> (f64, f64) {
        let (mut above, mut below) = (self.size + 1.0, self.size * 0.28 + 2.0);
        for (i, cell) in lines.iter().enumerate() {
            let size = self.cell_size(i);
            let more = cell.len().saturating_sub(1) as f64 * size * 1.28;
            below = below.max(size * 0.28 + 2.0 + more);
            if self.table.bench && cell.iter().any(|line| line.contains(SLASH)) {
                let (over, under) = reach(size);
                (above, below) = (above.max(over + 0.5), below.max(under + 0.5 + more));
            }
        }
        (above, below)
    }
}

fn cell_size(table: &Table, column: usize, words: f64) -> f64 {
    match table.bench && table.columns[column].figures {
        true => BENCH,
        false => words,
    }
}

fn weight(table: &Table, column: usize) -> Weight {
    if table.large && table.columns[column].figures {
        Weight::Bold
    } else {
        Weight::Regular
    }
}

/// Adds a table below what is there.
pub fn add(flow: &mut Flow, table: &Table) {
    let ruler = flow.ruler();
    let usual = flow.sized(WORDS);
    let size = if table.bench {
        usual.max(BENCH_WORDS)
    } else {
        usual
    };
    let show = |row: &Vec<crate::packet::Phrase>| {
        row.iter().map(|cell| stacked(&cell.show(ruler))).collect()
    };
    let cells: Vec<Vec<String>> = table.rows.iter().map(show).collect();
    let gaps = if table.bench { BENCH_GAPS } else { GAPS };
    let between = table.columns.len() as f64 - 1.0;
    let natural = widths::natural(table, &cells, size);
    let narrow = natural.iter().sum::<f64>() + gaps.0 * between;
    let fit = ((flow.width() + BESIDE) / (narrow + BESIDE)) as usize;
    let beside = fit.min(MOST).min(table.rows.len() / LEAST_ROWS).max(1);
    let room = (flow.width() - (beside as f64 - 1.0) * BESIDE) / beside as f64;
    let widths = widths::widths(table, &cells, size, (room, gaps.0));
    let left_over = (room - widths.iter().sum::<f64>()) / between.max(1.0);
    let ready = Ready {
        table,
        cells,
        widths,
        gap: left_over.clamp(gaps.0, gaps.1),
        size,
    };
    if !table.is_headed() {
        // Its rows are read across one another, and may stand far from what they belong to.
        let rows = (table.rows.len() + 1) as f64 * (size * 1.28 + 3.0);
        flow.keep_together(rows);
        flow.write_line(&table.caption, size, Weight::Bold);
        flow.y += 2.0;
    }
    match beside {
        1 => run_down(flow, &ready),
        _ => side_by_side(flow, &ready, beside),
    }
    flow.y += 4.0;
}

/// One row below another, on sheet after sheet.
fn run_down(flow: &mut Flow, ready: &Ready) {
    let height = |row: usize| {
        let (above, below) = ready.row_height(&ready.lines(row));
        above + below
    };
    if ready.table.is_headed() {
        let rows = 0..ready.cells.len().min(BEGUN - 1);
        flow.need(head::height(ready) + rows.map(height).sum::<f64>());
    }
    head::draw(flow, ready, flow.left());
    for index in 0..ready.cells.len() {
        if flow.need(height(index)) {
            head::draw(flow, ready, flow.left());
        }
        row(flow, ready, index, flow.left());
    }
}

/// Rows down one part, then the next, each under a head of its own.
fn side_by_side(flow: &mut Flow, ready: &Ready, beside: usize) {
    let count = ready.cells.len();
    let height = |row: usize| {
        let (above, below) = ready.row_height(&ready.lines(row));
        above + below
    };
    let highest = (0..count).map(height).fold(0.0, f64::max);
    let step = (flow.width() + BESIDE) / beside as f64;
    let mut first = 0;
    while first < count {
        let room = |from: f64, flow: &Flow| {
            let rows = (flow.bottom() - from - head::height(ready)) / highest;
            rows.max(0.0) as usize
        };
        let wanted = (count - first).div_ceil(beside);
        if room(flow.y, flow) < wanted.min(BEGUN) {
            flow.need(f64::MAX / 2.0);
        }
        let down = wanted.min(room(flow.y, flow)).max(1);
        let (top, mut lowest) = (flow.y, flow.y);
        for part in 0..beside {
            let from = first + part * down;
            let rows = from.min(count)..(from + down).min(count);
            if rows.is_empty() {
                continue;
            }
            let left = flow.left() + part as f64 * step;
            flow.y = top;
            head::draw(flow, ready, left);
            for index in rows {
                row(flow, ready, index, left);
            }
            lowest = lowest.max(flow.y);
        }
        flow.y = lowest;
        first += down * beside;
    }
}

fn row(flow: &mut Flow, ready: &Ready, index: usize, left: f64) {
    let lines = ready.lines(index);
    let before_last = &lines[..lines.len().saturating_sub(1)];
    flow.torn += usize::from(before_last.iter().any(|cell| cell.len() > 1));
    let (above, below) = ready.row_height(&lines);
    let (mut x, base) = (left, flow.y + above);
    for (i, cell) in lines.into_iter().enumerate() {
        let (width, size) = (ready.widths[i], ready.cell_size(i));
        for (j, line) in cell.into_iter().enumerate() {
            let text = Text {
                weight: weight(ready.table, i),
                ..Text::new(line, x, base + j as f64 * size * 1.28, size)
            };
            let text = match ready.table.columns[i].figures {
                true => text.clone().at(x + width, text.at.y).end(),
                false => text,
            };
            flow.sheet().text(text);
        }
        x += width + ready.gap;
    }
    flow.y += above + below;
    rule(flow, (left, ready.width()), 0.3, Ink::grey(150));
}

/// A line over a width.
fn rule(flow: &mut Flow, (left, width): (f64, f64), thick: f64, ink: Ink) {
    let ends = [left, left + width].map(|x| Point::new(x, flow.y));
    flow.sheet().line(ends[0], ends[1], thick, ink);
}
