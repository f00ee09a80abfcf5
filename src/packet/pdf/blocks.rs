//! Blocks of the document on sheets.

use super::flow::{Begin, Below, FAINT, Flow};
use super::style::{self, Style};
use super::{marks, steps, table};
use crate::draw::{Drawing, Ink, Point, Text, Weight, text_width, wrap};
use crate::measure::Unit;
use crate::packet::document::{Block, Part, Picture};
use crate::packet::phrase::Phrase;

pub const BODY: f64 = 9.5;
/// Free above a heading.
const ABOVE_HEADING: f64 = 5.0;
/// Least room for a figure and its name.
const FIGURE: f64 = 100.0;
/// The share of the width that a drawing takes which is to be low.
const LOW_SHARE: f64 = 0.56;
/// Of a table read at the bench so much stands below its heading.
const WITH_HEADING: f64 = 130.0;

/// Adds a part, on a sheet of its own or below what is there.
pub fn add_part(flow: &mut Flow, part: &Part, style: Style, begin: Begin) {
    flow.begin(part, style, begin);
    flow.run_down(part.columns, |flow| add_all(flow, &part.blocks));
}

/// Adds blocks below what is there; a heading stays with what it heads, if that is not much.
fn add_all(flow: &mut Flow, blocks: &[Block]) {
    let mut done = 0;
    for (i, block) in blocks.iter().enumerate() {
        if i < done {
            continue;
        }
        if let [Block::Table(one), Block::Table(other), ..] = &blocks[i..]
            && one.large
            && other.large
        {
            marks::add_two(flow, one, other);
            done = i + 2;
            continue;
        }
        if matches!(block, Block::Heading(_)) {
            let height = flow.measure(flow.width(), |trial| {
                for block in headed(&blocks[i..]) {
                    add(trial, block, Below::default());
                }
            });
            // Measured at the top of a sheet, where nothing is left free above it.
            let height = height + flow.sized(ABOVE_HEADING);
            // A table goes on over the next sheet by itself.
            let table = blocks[i..].iter().take(3);
            let parts = table.take_while(|b| !matches!(b, Block::Picture(_)));
            match parts
                .into_iter()
                .any(|b| matches!(b, Block::Table(table) if table.bench))
            {
                true => flow.need(height.min(WITH_HEADING)),
                false => flow.keep_together(height),
            };
        }
        let below = match block {
            Block::Picture(_) => below(flow, &blocks[i + 1..]),
            _ => Below::default(),
        };
        add(flow, block, below);
    }
}

/// A heading and what it heads.
fn headed(blocks: &[Block]) -> &[Block] {
    let next = blocks.iter().skip(1).position(|block| {
        matches!(
            block,
            Block::Heading(_) | Block::Picture(_) | Block::Pair { .. }
        )
    });
    &blocks[..next.map_or(blocks.len(), |next| next + 1)]
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
            flow.need(flow.sized(60.0));
            flow.leave(flow.sized(ABOVE_HEADING));
            flow.write_line(words, flow.sized(11.5), Weight::Bold);
            flow.y += 1.0;
        }
        Block::Text(words) => {
            flow.write_line(&words.show(ruler), flow.sized(BODY), Weight::Regular);
            flow.y += 3.0;
        }
        Block::Picture(picture) if !picture.heights.is_empty() => {
            flow.layouts(&picture.heights, below);
        }
        // Not on paper.
        Block::Photo(_) => {}
        Block::Picture(picture) => flow.picture(in_unit(picture, ruler.unit), below),
        Block::Figures(figures) => add_figures(flow, figures),
        Block::Lines(lines) => add_lines(flow, lines),
        Block::Table(rows) if rows.large => marks::add(flow, rows),
        Block::Table(rows) => table::add(flow, rows),
        Block::Steps(steps) => steps::add(flow, steps),
        Block::Either { paper, .. } => add_all(flow, paper),
        Block::Columns(count, blocks) => {
            flow.run_down(*count, |flow| add_all(flow, blocks));
            flow.y += 2.0;
        }
        Block::Pair { left, right, share } => add_pair(flow, left, right, *share),
        Block::Beside(groups) => add_beside(flow, groups),
        Block::Caution { title, words } => add_caution(flow, title, &words.show(ruler)),
    }
}

/// A column narrower than this has no room for two groups side by side.
const LEAST_FOR_TWO: f64 = 330.0;

/// Two groups side by side, in a narrow column one below the other. Where a sheet has no room for a table read from afar, what stands on
/// its right comes first, and the table has the next sheet for itself.
fn add_pair(flow: &mut Flow, left: &[Block], right: &[Block], share: f64) {
    // A drawing that is to be low needs less of the width.
    let share = if flow.is_low() {
        share.min(LOW_SHARE)
    } else {
        share
    };
    let add_group = |flow: &mut Flow, group: &[Block]| {
        for block in group {
            add(flow, block, Below::default());
        }
    };
    let (add_left, add_right) = (
        |flow: &mut Flow| add_group(flow, left),
        |flow: &mut Flow| add_group(flow, right),
    );
    if flow.width() < LEAST_FOR_TWO {
        // The drawing and its first words stay together.
        let height = flow.measure(flow.width(), add_left);
        flow.need(height + 3.0 * flow.sized(BODY));
        add_left(flow);
        add_right(flow);
    } else if style::is_read_from_afar(left) && !flow.holds_pair(share, add_left, add_right) {
        let sheet = flow.count();
        add_right(flow);
        if flow.count() == sheet {
            let height = flow.measure(flow.width(), add_left);
            flow.need(height);
        }
        add_left(flow);
    } else {
        flow.pair(share, add_left, add_right);
    }
}

/// Groups side by side: up to four in a row, each row on one sheet.
fn add_beside(flow: &mut Flow, groups: &[Vec<Block>]) {
    let rows = groups.len().div_ceil(4).max(1);
    let count = groups.len().div_ceil(rows).max(2);
    let add_group = |flow: &mut Flow, group: &Vec<Block>| {
        for block in group {
            add(flow, block, Below::default());
        }
    };
    for row in groups.chunks(count) {
        flow.row(count, row, add_group);
    }
}

/// Names above their values, as many in a row as there is room for.
fn add_figures(flow: &mut Flow, figures: &[(String, Phrase)]) {
    let columns = ((flow.width() / FIGURE) as usize).clamp(1, 5);
    let step = flow.width() / columns as f64;
    let (body, small) = (flow.sized(BODY), flow.sized(8.0));
    for row in figures.chunks(columns) {
        let values: Vec<Vec<String>> = row
            .iter()
            .map(|(_, value)| {
                let words = value.show(flow.ruler());
                wrap(&words, body, Weight::Bold, step - 8.0)
            })
            .collect();
        let lines = values.iter().map(Vec::len).max().unwrap_or(1);
        let line = body * 1.26;
        let height = small * 1.4 + lines as f64 * line + 5.0;
        flow.need(height);
        let y = flow.y;
        for (i, ((name, _), value)) in row.iter().zip(&values).enumerate() {
            let x = flow.left() + i as f64 * step;
            let name = Text::new(name.as_str(), x, y + small, small).ink(FAINT);
            flow.sheet().text(name);
            for (j, words) in value.iter().enumerate() {
                let base = y + small * 1.4 + body + j as f64 * line;
                let text = Text::new(words.as_str(), x, base, body).bold();
                flow.sheet().text(text);
            }
        }
        flow.y += height;
    }
}

/// A name, and beside it what is to be said of it; none is cut in two.
fn add_lines(flow: &mut Flow, lines: &[(String, Phrase)]) {
    let size = flow.sized(BODY);
    if flow.width() < LEAST_FOR_TWO {
        return add_running_lines(flow, lines, size);
    }
    let names = lines.iter();
    let indent = names
        .map(|(name, _)| text_width(name, size, Weight::Bold) + 8.0)
        .fold(0.0, f64::max);
    let (room, step) = (flow.width() - indent, size * 1.24);
    for (name, words) in lines {
        let words = wrap(&words.show(flow.ruler()), size, Weight::Regular, room);
        flow.need(words.len() as f64 * step);
        let left = flow.left();
        let name = Text::new(name.as_str(), left, flow.y + size, size).bold();
        flow.sheet().text(name);
        for line in words {
            let text = Text::new(line, left + indent, flow.y + size, size);
            flow.sheet().text(text);
            flow.y += step;
        }
        flow.y += 1.6;
    }
    flow.y += 3.0;
}

/// A name and what is to be said of it, one after the other as words run.
fn add_running_lines(flow: &mut Flow, lines: &[(String, Phrase)], size: f64) {
    let step = size * 1.24;
    for (name, words) in lines {
        let indent = text_width(name, size, Weight::Bold) + 4.0;
        let words = words.show(flow.ruler());
        let first = wrap(&words, size, Weight::Regular, flow.width() - indent);
        let first = first.into_iter().next().unwrap_or_default();
        let rest: String = words.chars().skip(first.chars().count()).collect();
        let rest = wrap(rest.trim_start(), size, Weight::Regular, flow.width());
        flow.need((rest.len().min(2) + 1) as f64 * step);
        let (left, base) = (flow.left(), flow.y + size);
        let name = Text::new(name.as_str(), left, base, size).bold();
        flow.sheet().text(name);
        let text = Text::new(first, left + indent, base, size);
        flow.sheet().text(text);
        flow.y += step;
        for line in rest.into_iter().filter(|line| !line.is_empty()) {
            flow.need(step);
            let text = Text::new(line, flow.left(), flow.y + size, size);
            flow.sheet().text(text);
            flow.y += step;
        }
        flow.y += 1.2;
    }
    flow.y += 2.0;
}

/// A title and words beside a bar.
fn add_caution(flow: &mut Flow, title: &str, words: &str) {
    let (indent, body, head) = (10.0, flow.sized(BODY), flow.sized(10.5));
    let room = flow.width() - indent;
    let lines = wrap(words, body, Weight::Regular, room).len() as f64;
    let height = (head + lines * body) * 1.32 + 1.0;
    flow.need(height + 6.0);
    flow.leave(4.0);
    let (left, top) = (flow.left(), flow.y);
    let bar = [
        Point::new(left + 1.5, top),
        Point::new(left + 1.5, top + height),
    ];
    flow.sheet().stroke(bar, 3.0, Ink::BLACK);
    flow.write_lines(title, head, Weight::Bold, left + indent, room);
    flow.write_lines(words, body, Weight::Regular, left + indent, room);
    flow.y += 6.0;
}
