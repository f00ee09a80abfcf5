//! The head of a table: what its columns are, and above that what some of them have in common.

use super::{Ready, rule};
use crate::draw::{Ink, Text, Weight, wrap};
use crate::packet::pdf::flow::{FAINT, Flow};

/// Height of a line of a head, in sizes of its words.
const LINE: f64 = 1.25;

/// Size of a head's words.
pub fn size(table: &crate::packet::document::Table, words: f64) -> f64 {
    if table.bench { words } else { words - 0.5 }
}

/// Columns in a row that have the same in common: where they begin and end, and what it is.
pub fn groups(table: &crate::packet::document::Table) -> Vec<(usize, usize, &str)> {
    let mut groups: Vec<(usize, usize, &str)> = Vec::new();
    for (i, column) in table.columns.iter().enumerate() {
        match groups.last_mut() {
            Some((_, to, group)) if *group == column.group => *to = i + 1,
            _ => groups.push((i, i + 1, &column.group)),
        }
    }
    groups.retain(|(.., group)| !group.is_empty());
    groups
}

fn heads(ready: &Ready) -> Vec<Vec<String>> {
    let size = size(ready.table, ready.size);
    let columns = ready.table.columns.iter().zip(&ready.widths);
    columns
        .map(|(column, &width)| wrap(&column.head, size, Weight::Bold, width))
        .collect()
}

/// How high the head is.
pub fn height(ready: &Ready) -> f64 {
    if !ready.table.is_headed() {
        return 0.0;
    }
    let line = size(ready.table, ready.size) * LINE;
    let lines = heads(ready).iter().map(Vec::len).max().unwrap_or(0).max(1);
    let above = if groups(ready.table).is_empty() {
        0.0
    } else {
        line + 2.0
    };
    above + lines as f64 * line + 3.0
}

/// Draws the head with its left edge at `left`.
pub fn draw(flow: &mut Flow, ready: &Ready, left: f64) {
    if ready.table.is_headed() {
        let (size, top) = (size(ready.table, ready.size), flow.y);
        let starts = starts(ready, left);
        let groups = groups(ready.table);
        if !groups.is_empty() {
            for &(from, to, group) in &groups {
                let text = Text::new(group, starts[from], top + size, size)
                    .bold()
                    .ink(FAINT);
                flow.sheet().text(text);
                flow.y = top + size * LINE + 1.0;
                let end = starts[to - 1] + ready.widths[to - 1];
                rule(
                    flow,
                    (starts[from], end - starts[from]),
                    0.5,
                    Ink::grey(120),
                );
            }
            flow.y = top + size * LINE + 2.0;
        }
        let heads = heads(ready);
        let most = heads.iter().map(Vec::len).max().unwrap_or(0).max(1);
        for (i, lines) in heads.into_iter().enumerate() {
            // Heads stand on the line below them.
            let above = most - lines.len();
            for (j, line) in lines.into_iter().enumerate() {
                let base = flow.y + size + (above + j) as f64 * size * LINE;
                let text = Text::new(line, starts[i], base, size).bold().ink(FAINT);
                let text = match ready.table.columns[i].figures {
                    true => text.at(starts[i] + ready.widths[i], base).end(),
                    false => text,
                };
                flow.sheet().text(text);
            }
        }
        flow.y = top + height(ready);
    }
    rule(flow, (left, ready.width()), 0.9, Ink::BLACK);
}

/// Where the columns begin.
fn starts(ready: &Ready, left: f64) -> Vec<f64> {
    let mut x = left;
    let widths = ready.widths.iter();
    widths
        .map(|width| {
            let start = x;
            x += width + ready.gap;
            start
        })
        .collect()
}
