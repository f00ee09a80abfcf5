//! In which order the parts of a packet stand on its sheets, and which share one.

use super::blocks::add_part;
use super::flow::{BELOW_CONTENT, Begin, Flow};
use super::paper::Paper;
use super::style::{self, Style};
use crate::draw::{Drawing, Shape};
use crate::packet::document::{Document, OVERVIEW, Part};

/// A case of so few fronts is drawn lower where that saves a sheet.
const FEW_FRONTS: usize = 4;
/// Then it takes no more than this share of the sheet's height.
const LOW_CASE: f64 = 0.24;
/// A board with words below it is drawn as low as can be; its drawing takes less than this.
const LOW_BOARD: f64 = 0.9;
/// What may stand below it.
const BELOW_CASE: [[&str; 2]; 2] = [["cutlist", "cautions"], ["order", "cautions"]];
/// A board's second sheet filled less than this may bear the next board too.
const HARDLY_BEGUN: f64 = 0.5;

/// Of more boards than these the packet is laid out once, as usual: a sheet saved is not worth the wait.
const MANY: usize = 24;

/// What is laid out next.
#[derive(Clone, Copy)]
enum Unit<'a> {
    /// A part on a sheet of its own, or below another where it may.
    Part(&'a Part),
    /// A board drawn low at the top of a sheet, words below it.
    Low(&'a Part),
}

/// What there is to choose.
#[derive(Clone, Copy)]
struct Choice {
    /// Boards come last but for the cautions.
    boards_last: bool,
    /// The last board has words below it.
    words_below: bool,
    /// The case is drawn low, and these parts stand below it.
    below_case: Option<[&'static str; 2]>,
}

/// The arrangement that takes the fewest sheets, the fewest of them hardly filled; the more usual one
/// of equals.
pub fn fewest(document: &Document, paper: Paper, parts: &[Part]) -> Vec<Drawing> {
    let boards = parts.iter().filter(|part| part.is_board()).count();
    let most = if boards > MANY { 1 } else { usize::MAX };
    let sheets = choices(document).take(most).map(|choice| {
        let units = units(parts, choice);
        lay_out(document, paper, &units, choice)
    });
    let best = sheets.min_by_key(|sheets| (sheets.len(), hardly_filled(sheets)));
    best.unwrap_or_default()
}

/// Sheets but for the last that are filled less than half.
fn hardly_filled(sheets: &[Drawing]) -> usize {
    let but_last = sheets.iter().take(sheets.len().saturating_sub(1));
    let down = |shape: &Shape| match shape {
        Shape::Area { points, .. } | Shape::Stroke { points, .. } => {
            points.iter().map(|point| point.y).fold(0.0, f64::max)
        }
        Shape::Text(text) => text.at.y,
    };
    let lowest = |sheet: &Drawing| {
        let ends = sheet.shapes.iter().map(down);
        let above_foot = ends.filter(|end| *end <= sheet.height - BELOW_CONTENT + 1e-6);
        above_foot.fold(0.0, f64::max)
    };
    but_last
        .filter(|sheet| lowest(sheet) < sheet.height / 2.0)
        .count()
}

/// All choices, the more usual ones first.
fn choices(document: &Document) -> impl Iterator<Item = Choice> {
    let low = document.fronts.len() <= FEW_FRONTS;
    let below = BELOW_CASE.map(Some).into_iter().filter(move |_| low);
    std::iter::once(None).chain(below).flat_map(|below_case| {
        let others = [(false, false), (false, true), (true, false)];
        others.map(|(words_below, boards_last)| Choice {
            boards_last,
            words_below,
            below_case,
        })
    })
}

/// Everything in its order.
fn units(parts: &[Part], choice: Choice) -> Vec<Unit<'_>> {
    let (boards, others): (Vec<&Part>, Vec<&Part>) = parts.iter().partition(|part| part.is_board());
    let overview = others.iter().position(|part| part.id == OVERVIEW);
    let (head, rest) = others.split_at(overview.map_or(0, |at| at + 1));
    let mut rest = rest.to_vec();
    let before = match (choice.boards_last, choice.below_case) {
        (true, _) => rest.len().saturating_sub(1),
        (false, Some(below)) => {
            let stands_below = |part: &&Part| below.contains(&part.id.as_str());
            rest.sort_by_key(|part| !stands_below(part));
            rest.iter().take_while(|part| stands_below(part)).count()
        }
        (false, None) => 0,
    };
    let (before, after) = rest.split_at(before);
    let mut boards: Vec<Unit> = boards.into_iter().map(Unit::Part).collect();
    if choice.words_below
        && let Some(Unit::Part(last)) = boards.pop()
    {
        boards.push(Unit::Low(last));
    }
    let before = head.iter().chain(before).map(|part| Unit::Part(part));
    let after = after.iter().map(|part| Unit::Part(part));
    before.chain(boards).chain(after).collect()
}

fn lay_out(document: &Document, paper: Paper, units: &[Unit], choice: Choice) -> Vec<Drawing> {
    let mut flow = Flow::new(document, paper);
    let mut after_board = false;
    for (i, &unit) in units.iter().enumerate() {
        match unit {
            Unit::Low(part) => {
                let style = style::TIGHT.with_low_pictures(LOW_BOARD);
                add_part(&mut flow, part, style, Begin::Anew);
            }
            Unit::Part(part) if part.is_board() => {
                let style = Style::of(document, paper, part);
                let on_rest = after_board && flow.filled() < HARDLY_BEGUN;
                if !(on_rest && add_on_rest(&mut flow, part)) {
                    add_part(&mut flow, part, style, Begin::Anew);
                }
            }
            Unit::Part(part) if i == 0 || part.id == OVERVIEW => {
                let style = match choice.below_case {
                    Some(_) => style::SMALL.with_low_pictures(LOW_CASE),
                    None => Style::of(document, paper, part),
                };
                add_part(&mut flow, part, style, Begin::Anew);
            }
            Unit::Part(part) => {
                let style = match choice.below_case {
                    Some(_) => style::SMALL,
                    None => style::GOES_ON,
                };
                add_part(&mut flow, part, style, Begin::Below);
            }
        }
        after_board = matches!(unit, Unit::Part(part) if part.is_board());
    }
    flow.finish()
}

/// A board below the rest of the one before it, if that has room; says whether it had.
fn add_on_rest(flow: &mut Flow, part: &Part) -> bool {
    let mut trial = flow.clone();
    add_part(&mut trial, part, style::TIGHT, Begin::Below);
    let fits = trial.count() == flow.count();
    if fits {
        *flow = trial;
    }
    fits
}
