//! Blocks of the document on sheets.

use super::flow::{Below, FAINT, Flow};
use super::table;
use crate::draw::{Drawing, Ink, Point, Rect, Text, Weight, text_width, wrap};
use crate::measure::Unit;
use crate::packet::document::{Block, Picture};
use crate::packet::phrase::Phrase;

const BODY: f64 = 9.5;
/// Figures in a row.
const COLUMNS: usize = 5;

/// Adds blocks below what is there.
pub fn add_all(flow: &mut Flow, blocks: &[Block]) {
    for (i, block) in blocks.iter().enumerate() {
        let below = match block {
            Block::Picture(_) => below(flow, &blocks[i + 1..]),
            _ => Below::default(),
        };
        add(flow, block, below);
    }
}

/// What comes below a drawing.
fn below(flow: &Flow, rest: &[Block]) -> Below {
    let height = |blocks: &[Block]| flow.measure(flow.width(), |trial| add_all(trial, blocks));
    let figures = matches!(rest.first(), Some(Block::Figures(_)));
    Below {
        must: if figures { height(&rest[..1]) } else { 0.0 },
        may: height(rest),
    }
}

fn in_unit(picture: &Picture, unit: Unit) -> &Drawing {
    match unit {
        Unit::Inch => &picture.inch,
        Unit::Mm => &picture.mm,
    }
}

/// Adds a block.
fn add(flow: &mut Flow, block: &Block, below: Below) {
    let ruler = flow.ruler();
    match block {
        Block::Heading(words) => {
            // A heading stays with a few lines of what it heads.
            flow.need(60.0);
            flow.y += 5.0;
            flow.write_line(words, 11.0, Weight::Bold);
            flow.y += 1.0;
        }
        Block::Text(words) => {
            flow.write_line(&words.show(ruler), BODY, Weight::Regular);
            flow.y += 3.0;
        }
        Block::Picture(picture) => flow.picture(in_unit(picture, ruler.unit), below),
        Block::Figures(figures) => add_figures(flow, figures),
        Block::Lines(lines) => add_lines(flow, lines),
        Block::Table(rows) => table::add(flow, rows),
        Block::Steps(steps) => add_steps(flow, steps),
        Block::Pair { left, right, share } => flow.pair(
            *share,
            |flow| {
                left.iter()
                    .for_each(|block| add(flow, block, Below::default()))
            },
            |flow| {
                right
                    .iter()
                    .for_each(|block| add(flow, block, Below::default()))
            },
        ),
        Block::Caution { title, words } => add_caution(flow, title, words),
    }
}

/// Names above their values, five in a row.
fn add_figures(flow: &mut Flow, figures: &[(String, Phrase)]) {
    let step = flow.width() / COLUMNS as f64;
    for row in figures.chunks(COLUMNS) {
        let values: Vec<Vec<String>> = row
            .iter()
            .map(|(_, value)| {
                let words = value.show(flow.ruler());
                wrap(&words, BODY, Weight::Bold, step - 8.0)
            })
            .collect();
        let lines = values.iter().map(Vec::len).max().unwrap_or(1);
        let height = 11.0 + lines as f64 * 12.0 + 4.0;
        flow.need(height);
        let y = flow.y;
        for (i, ((name, _), value)) in row.iter().zip(&values).enumerate() {
            let x = flow.left() + i as f64 * step;
            let name = Text::new(name.as_str(), x, y + 8.0, 8.0).ink(FAINT);
            flow.sheet().text(name);
            for (j, line) in value.iter().enumerate() {
                let base = y + 19.0 + j as f64 * 12.0;
                let text = Text::new(line.as_str(), x, base, BODY).bold();
                flow.sheet().text(text);
            }
        }
        flow.y += height;
    }
}

/// A name, and beside it what is to be said of it; none is cut in two.
fn add_lines(flow: &mut Flow, lines: &[(String, Phrase)]) {
    const SIZE: f64 = 8.5;
    let names = lines.iter();
    let indent = names
        .map(|(name, _)| text_width(name, SIZE, Weight::Bold) + 8.0)
        .fold(0.0, f64::max);
    let (left, room) = (flow.left(), flow.width() - indent);
    for (name, words) in lines {
        let words = words.show(flow.ruler());
        let height = wrap(&words, SIZE, Weight::Regular, room).len() as f64 * SIZE * 1.32;
        flow.need(height + 2.0);
        let name = Text::new(name.as_str(), left, flow.y + SIZE, SIZE).bold();
        flow.sheet().text(name);
        flow.write_lines(&words, SIZE, Weight::Regular, left + indent, room);
        flow.y += 2.0;
    }
    flow.y += 4.0;
}

/// Numbered lines, each with a box to tick; short ones in several columns.
fn add_steps(flow: &mut Flow, steps: &[Phrase]) {
    let ruler = flow.ruler();
    let steps: Vec<String> = steps.iter().map(|step| step.show(ruler)).collect();
    let widest = steps
        .iter()
        .map(|step| text_width(step, BODY, Weight::Regular))
        .fold(0.0, f64::max);
    let columns = ((flow.width() + GAP) / (widest + INDENT + GAP)) as usize;
    let columns = columns.clamp(1, 4).min(steps.len().div_ceil(3));
    if columns == 1 {
        for (i, step) in steps.iter().enumerate() {
            add_step(flow, i + 1, step);
        }
        return;
    }
    // Down the first column, then the next, as one reads a list.
    let rows = steps.len().div_ceil(columns);
    let height = BODY * 1.32 + 2.5;
    let step_width = flow.width() / columns as f64;
    for row in 0..rows {
        flow.need(height);
        for column in 0..columns {
            if let Some(step) = steps.get(column * rows + row) {
                let left = flow.left() + column as f64 * step_width;
                tick(flow, left, column * rows + row + 1);
                let text = Text::new(step.as_str(), left + INDENT, flow.y + BODY, BODY);
                flow.sheet().text(text);
            }
        }
        flow.y += height;
    }
}

const INDENT: f64 = 32.0;
const GAP: f64 = 14.0;

fn add_step(flow: &mut Flow, number: usize, words: &str) {
    let room = flow.width() - INDENT;
    let lines = wrap(words, BODY, Weight::Regular, room).len().min(4);
    flow.need(lines as f64 * BODY * 1.32 + 2.0);
    let left = flow.left();
    tick(flow, left, number);
    flow.write_lines(words, BODY, Weight::Regular, left + INDENT, room);
    flow.y += 2.5;
}

/// The box and the number of a step.
fn tick(flow: &mut Flow, left: f64, number: usize) {
    let y = flow.y;
    let box_of = Rect::new(left, y + 1.0, left + 9.0, y + 10.0);
    let number = Text::new(format!("{number}."), left + INDENT - 5.0, y + BODY, BODY);
    flow.sheet().outline(box_of.corners(), 0.8, Ink::BLACK);
    flow.sheet().text(number.bold().end());
}

/// A title and words beside a bar.
fn add_caution(flow: &mut Flow, title: &str, words: &str) {
    let indent = 10.0;
    let room = flow.width() - indent;
    let lines = wrap(words, BODY, Weight::Regular, room).len();
    let height = 15.0 + lines as f64 * BODY * 1.32;
    flow.need(height + 6.0);
    flow.y += 4.0;
    let (left, top) = (flow.left(), flow.y);
    let bar = [
        Point::new(left + 1.5, top),
        Point::new(left + 1.5, top + height),
    ];
    flow.sheet().stroke(bar, 3.0, Ink::BLACK);
    flow.write_lines(title, 10.5, Weight::Bold, left + indent, room);
    flow.write_lines(words, BODY, Weight::Regular, left + indent, room);
    flow.y += 5.0;
}
