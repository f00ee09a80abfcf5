//! Things to do on sheets, numbered, each with a box to tick.

use super::blocks::BODY;
use super::flow::Flow;
use crate::draw::{Ink, Rect, Text, Weight, text_width, wrap};
use crate::packet::phrase::Phrase;

/// Between two steps of one line.
const GAP: f64 = 14.0;
/// Columns of short steps.
const MOST: usize = 4;

/// Adds steps: short ones in columns, others one after the other, as many in a line as it holds.
pub fn add(flow: &mut Flow, steps: &[Phrase]) {
    let ruler = flow.ruler();
    let steps: Vec<String> = steps.iter().map(|step| step.show(ruler)).collect();
    let body = flow.sized(BODY);
    let indent = indent(body, steps.len());
    let lengths = steps
        .iter()
        .map(|step| text_width(step, body, Weight::Regular));
    let widest = lengths.fold(0.0, f64::max);
    let columns = ((flow.width() + GAP) / (widest + indent + GAP)) as usize;
    let all = (widest + indent + GAP) * steps.len() as f64;
    match columns.clamp(1, MOST).min(steps.len().div_ceil(3)) {
        _ if all <= flow.width() => one_by_one(flow, &steps),
        0 | 1 => one_by_one(flow, &steps),
        columns => in_columns(flow, &steps, columns),
    }
}

/// Room for a box and the number of a step, of so many.
fn indent(body: f64, count: usize) -> f64 {
    let widest = if count > 9 { "00." } else { "0." };
    body * 0.95 + 4.0 + text_width(widest, body, Weight::Bold) + 4.0
}

/// Down the first column, then the next, as one reads a list.
fn in_columns(flow: &mut Flow, steps: &[String], columns: usize) {
    let body = flow.sized(BODY);
    let indent = indent(body, steps.len());
    let rows = steps.len().div_ceil(columns);
    let height = body * 1.32 + 2.5;
    let step_width = flow.width() / columns as f64;
    for row in 0..rows {
        flow.need(height);
        for column in 0..columns {
            if let Some(step) = steps.get(column * rows + row) {
                let left = flow.left() + column as f64 * step_width;
                tick(flow, (left, indent), column * rows + row + 1);
                let text = Text::new(step.as_str(), left + indent, flow.y + body, body);
                flow.sheet().text(text);
            }
        }
        flow.y += height;
    }
}

/// A step goes on in the line of the one before where it has room there.
fn one_by_one(flow: &mut Flow, steps: &[String]) {
    let body = flow.sized(BODY);
    let indent = indent(body, steps.len());
    let height = body * 1.32 + 2.5;
    // How far the line has run; nothing stands in it yet when `None`.
    let mut run: Option<f64> = None;
    for (i, words) in steps.iter().enumerate() {
        let wide = indent + text_width(words, body, Weight::Regular);
        let fits = run.is_some_and(|run| run + wide <= flow.width());
        if !fits {
            flow.y += if run.is_some() { height } else { 0.0 };
            let room = flow.width() - indent;
            let lines = wrap(words, body, Weight::Regular, room);
            flow.need(lines.len().min(4) as f64 * body * 1.32 + 2.0);
            run = Some(0.0);
            if lines.len() > 1 {
                let left = flow.left();
                tick(flow, (left, indent), i + 1);
                flow.write_lines(words, body, Weight::Regular, left + indent, room);
                flow.y += 2.5;
                run = None;
                continue;
            }
        }
        let left = flow.left() + run.unwrap_or(0.0);
        tick(flow, (left, indent), i + 1);
        let text = Text::new(words.as_str(), left + indent, flow.y + body, body);
        flow.sheet().text(text);
        run = Some(run.unwrap_or(0.0) + wide + GAP);
    }
    flow.y += if run.is_some() { height } else { 0.0 };
}

/// The box and the number of a step.
fn tick(flow: &mut Flow, (left, indent): (f64, f64), number: usize) {
    let (body, y) = (flow.sized(BODY), flow.y);
    let side = body * 0.95;
    let box_of = Rect::new(left, y + body * 0.12, left + side, y + body * 0.12 + side);
    let end = left + indent - 4.0;
    let number = Text::new(format!("{number}."), end, y + body, body);
    flow.sheet().outline(box_of.corners(), 0.8, Ink::BLACK);
    flow.sheet().text(number.bold().end());
}
