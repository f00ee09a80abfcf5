//! The marks of a board on sheets: read at arm's length, in as many columns as there is room for.

use super::flow::Flow;
use crate::draw::{Ink, Point, Text, Weight, ring, stacked, text_width, wrap};
use crate::packet::document::Table;

/// Size of a figure: the digits of its fraction are ten points high then.
const FIGURE: f64 = 16.0;
/// Size of words, as the style has it.
const WORDS: f64 = 9.5;
/// Height of a row.
const ROW: f64 = 20.4;
/// For a number in its ring.
const NUMBER: f64 = 21.0;
/// Between columns of a row, and between columns of rows.
const GAPS: (f64, f64) = (7.0, 16.0);
/// No more columns than this, or the order is hard to follow.
const MOST: usize = 4;

/// A table made ready: number, figure, words in each row.
struct Ready {
    rows: Vec<(usize, String, Vec<Vec<String>>)>,
    figure: f64,
    widths: Vec<f64>,
    size: f64,
}

impl Ready {
    fn width(&self) -> f64 {
        let words: f64 = self.widths.iter().map(|width| GAPS.0 + width).sum();
        NUMBER + self.figure + words
    }

    fn height(&self, row: usize) -> f64 {
        let lines = self.rows[row].2.iter().map(Vec::len).max().unwrap_or(1);
        ROW + (lines.max(1) - 1) as f64 * self.size * 1.25
    }
}

/// Adds the marks below what is there; their caption stays with them.
pub fn add(flow: &mut Flow, table: &Table) {
    let ready = ready(flow, table);
    let count = ((flow.width() + GAPS.1) / (ready.width() + GAPS.1)) as usize;
    let count = count.clamp(1, MOST).min(table.rows.len().max(1));
    let caption = ready.size + 6.0;
    let mut first = 0;
    while first < table.rows.len() {
        let rest = table.rows.len() - first;
        let here = ((flow.bottom() - flow.y - caption) / ROW) as usize;
        let whole = ((flow.bottom() - flow.top() - caption) / ROW) as usize;
        let needs = rest.div_ceil(count).min(whole.max(1));
        if here < needs && !flow.is_fresh() {
            flow.need(f64::MAX / 2.0);
        }
        flow.write_line(&table.caption, ready.size, Weight::Bold);
        let last = (first + needs * count).min(table.rows.len());
        chunk(flow, &ready, first..last, (needs, count));
        first = last;
    }
    flow.y += 5.0;
}

/// Rows down one column, then the next.
fn chunk(
    flow: &mut Flow,
    ready: &Ready,
    rows: std::ops::Range<usize>,
    (down, count): (usize, usize),
) {
    let (left, top) = (flow.left(), flow.y + 2.0);
    let step = match count {
        1 => 0.0,
        _ => (flow.width() + GAPS.1) / count as f64,
    };
    let mut lowest = top;
    let all: Vec<usize> = rows.collect();
    for (column, rows) in all.chunks(down).enumerate() {
        let x = left + column as f64 * step;
        let mut y = top;
        rule(flow, (x, y), ready.width(), Ink::BLACK);
        for &row in rows {
            one(flow, ready, row, (x, y));
            y += ready.height(row);
            rule(flow, (x, y), ready.width(), Ink::grey(150));
        }
        lowest = lowest.max(y);
    }
    flow.y = lowest;
}

fn one(flow: &mut Flow, ready: &Ready, row: usize, (x, y): (f64, f64)) {
    let (number, figure, cells) = &ready.rows[row];
    let middle = y + ROW / 2.0;
    ring(flow.sheet(), Point::new(x + 8.6, middle), *number);
    let right = x + NUMBER + ready.figure;
    let base = middle + FIGURE * 0.365;
    let figure = Text::new(figure.as_str(), right, base, FIGURE).bold().end();
    flow.sheet().text(figure);
    let mut at = right;
    for (lines, width) in cells.iter().zip(&ready.widths) {
        at += GAPS.0;
        for (i, line) in lines.iter().enumerate() {
            let base = middle + ready.size * (0.365 + 1.25 * i as f64);
            let text = Text::new(line.as_str(), at, base, ready.size);
            flow.sheet().text(text);
        }
        at += width;
    }
}

fn ready(flow: &Flow, table: &Table) -> Ready {
    let (ruler, size) = (flow.ruler(), flow.sized(WORDS));
    let show = |row: usize, column: usize| table.rows[row][column].show(ruler);
    let rows = 0..table.rows.len();
    let figures: Vec<String> = rows.clone().map(|row| stacked(&show(row, 1))).collect();
    let widest = |words: &mut dyn Iterator<Item = String>, size, weight| {
        words
            .map(|w| text_width(&w, size, weight))
            .fold(0.0, f64::max)
    };
    let figure = widest(&mut figures.iter().cloned(), FIGURE, Weight::Bold);
    let columns = 2..table.columns.len();
    let natural = columns.clone();
    let mut widths: Vec<f64> = natural
        .map(|column| {
            let mut words = rows.clone().map(|row| show(row, column));
            widest(&mut words, size, Weight::Regular) + 0.5
        })
        .collect();
    let others: f64 = widths
        .iter()
        .rev()
        .skip(1)
        .map(|width| width + GAPS.0)
        .sum();
    if let Some(last) = widths.last_mut() {
        *last = last.min(flow.width() - NUMBER - figure - others - GAPS.0);
    }
    let cells = |row: usize| {
        let cells = columns.clone().zip(&widths);
        let lines =
            cells.map(|(column, width)| wrap(&show(row, column), size, Weight::Regular, *width));
        lines.collect()
    };
    let number = |row: usize| show(row, 0).parse().unwrap_or_default();
    let told = rows.clone().zip(figures);
    let rows = told
        .map(|(row, figure)| (number(row), figure, cells(row)))
        .collect();
    Ready {
        rows,
        figure,
        widths,
        size,
    }
}

/// A line over the width of a row.
fn rule(flow: &mut Flow, (x, y): (f64, f64), width: f64, ink: Ink) {
    let ends = [Point::new(x, y), Point::new(x + width, y)];
    flow.sheet().stroke(ends, 0.6, ink);
}
