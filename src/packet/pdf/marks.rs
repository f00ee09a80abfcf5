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
/// A sheet filled less than this is not left for the next.
const HALF: f64 = 0.5;
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

    fn caption_width(&self, table: &Table) -> f64 {
        text_width(&table.caption, self.size, Weight::Bold)
    }

    /// Columns of rows that a width has room for.
    fn most_columns(&self, width: f64) -> usize {
        let count = ((width + GAPS.1) / (self.width() + GAPS.1)) as usize;
        count.clamp(1, MOST).min(self.rows.len().max(1))
    }

    /// Whether every row is a line.
    fn is_plain(&self) -> bool {
        let mut cells = self.rows.iter().flat_map(|(.., cells)| cells);
        cells.all(|lines| lines.len() <= 1)
    }

    fn height(&self, row: usize) -> f64 {
        let lines = self.rows[row].2.iter().map(Vec::len).max().unwrap_or(1);
        ROW + (lines.max(1) - 1) as f64 * self.size * 1.25
    }
}

/// Adds two tables of marks: side by side where that takes less room.
pub fn add_two(flow: &mut Flow, one: &Table, other: &Table) {
    let (a, b) = (ready(flow, one), ready(flow, other));
    let stacked = [&a, &b].map(|table| {
        let count = table.most_columns(flow.width());
        CAPTION + table.rows.len().div_ceil(count) as f64 * ROW
    });
    let beside = (1..MOST).filter_map(|columns| {
        let left = (columns as f64 * (a.width() + GAPS.1)).max(a.caption_width(one) + GAPS.1);
        let count = b.rows.len().min(MOST - columns);
        let (count, room) = (1..=count)
            .rev()
            .map(|count| (count, count as f64 * (b.width() + GAPS.1) - GAPS.1))
            .find(|(_, room)| left + room <= flow.width())?;
        let down = [(&a, columns), (&b, count)];
        let down = down.map(|(table, count)| table.rows.len().div_ceil(count));
        let plain = [&a, &b].iter().all(|table| table.is_plain());
        plain.then_some((down[0].max(down[1]), columns, count, left, room))
    });
    let best = beside.min_by_key(|(down, ..)| *down);
    let Some((down, columns, count, left, room)) = best else {
        add(flow, one);
        return add(flow, other);
    };
    let height = CAPTION + down as f64 * ROW;
    if height >= stacked[0] + stacked[1] || flow.y + height > flow.bottom() {
        add(flow, one);
        return add(flow, other);
    }
    let (top, from) = (flow.y, flow.left());
    caption(flow, one, &a, from);
    let rows = |table: &Ready| 0..table.rows.len();
    let down = |table: &Ready, count: usize| table.rows.len().div_ceil(count);
    let step = a.width() + GAPS.1;
    chunk(flow, &a, rows(&a), down(&a, columns), (from, step));
    let lowest = flow.y;
    flow.y = top;
    let from = from + left + ((flow.width() - left - room) / 2.0).clamp(0.0, GAPS.1);
    caption(flow, other, &b, from);
    let step = b.width() + GAPS.1;
    chunk(flow, &b, rows(&b), down(&b, count), (from, step));
    flow.y = flow.y.max(lowest) + 5.0;
}

/// Above the rows.
const CAPTION: f64 = 16.5;

fn caption(flow: &mut Flow, table: &Table, ready: &Ready, left: f64) {
    let text = Text::new(
        table.caption.as_str(),
        left,
        flow.y + ready.size,
        ready.size,
    );
    flow.sheet().text(text.bold());
    flow.y += ready.size * 1.32;
}

/// Adds the marks below what is there; their caption stays with them.
pub fn add(flow: &mut Flow, table: &Table) {
    let ready = ready(flow, table);
    let count = ready.most_columns(flow.width());
    let above = ready.size + 6.0;
    let step = match count {
        1 => 0.0,
        _ => (flow.width() + GAPS.1) / count as f64,
    };
    let mut first = 0;
    while first < table.rows.len() {
        let rest = table.rows.len() - first;
        let here = ((flow.bottom() - flow.y - above) / ROW) as usize;
        let whole = ((flow.bottom() - flow.top() - above) / ROW) as usize;
        let mut needs = rest.div_ceil(count).min(whole.max(1));
        if here < needs && !flow.is_fresh() {
            // A sheet that would be left half empty bears the first rows.
            match here > 0 && flow.filled() < HALF {
                true => needs = here,
                false => {
                    flow.need(f64::MAX / 2.0);
                }
            }
        }
        let left = flow.left();
        caption(flow, table, &ready, left);
        let last = (first + needs * count).min(table.rows.len());
        chunk(flow, &ready, first..last, needs, (left, step));
        first = last;
    }
    flow.y += 5.0;
}

/// Rows down one column, then the next.
fn chunk(
    flow: &mut Flow,
    ready: &Ready,
    rows: std::ops::Range<usize>,
    down: usize,
    (left, step): (f64, f64),
) {
    let top = flow.y + 2.0;
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
