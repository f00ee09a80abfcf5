//! What each run waits for: how much is bought before a board comes that takes it whole, and which
//! board that is at the least.

use super::axis::{Scale, marks};
use crate::draw::font::{self, Weight};
use crate::draw::shape::{Point, Rect, Text};
use crate::draw::sheet::Drawing;
use crate::draw::theme;
use crate::estimate::{Estimate, RunNeed, asked};
use crate::measure::{Length, Ruler, Unit};

const LEFT: f64 = 150.0;
const RIGHT: f64 = 190.0;
const TOP: f64 = 54.0;
/// Height of one run's row.
const ROW: f64 = 22.0;
/// More runs do not fit on a sheet; those that drive the need least are left out.
const MOST: usize = 18;

/// A bar for each run, as long as what is bought until in 9 piles of 10 a board that takes the run
/// whole has come, and beside it the least board to ask for.
pub fn need_of_runs(estimate: &Estimate, ruler: Ruler) -> Drawing {
    let title = "What each run needs";
    let runs = &estimate.runs[..estimate.runs.len().min(MOST)];
    let longest = runs.iter().filter_map(wait).fold(1.0, f64::max);
    let marks = marks(longest, 6);
    let feet = Scale {
        from: 0.0,
        to: marks[marks.len() - 1],
        start: LEFT,
        end: theme::WIDTH - RIGHT,
    };
    let mut sheet = Drawing::new(theme::WIDTH, title);
    let bottom = TOP + ROW * runs.len() as f64;
    sheet.height = bottom + 44.0;
    sheet.text(Text::new(title, theme::MARGIN, 18.0, theme::TITLE).bold());
    heads(&mut sheet, feet.end);
    for &mark in &marks {
        let x = feet.at(mark);
        let ink = match mark {
            0.0 => theme::INK,
            _ => theme::WASTE,
        };
        sheet.line(Point::new(x, TOP), Point::new(x, bottom), 0.6, ink);
        sheet.text(Text::new(asked(estimate.unit, mark), x, bottom + 12.0, theme::MARK).middle());
    }
    let middle = (feet.start + feet.end) / 2.0;
    sheet.text(Text::new(estimate.unit.bulk(), middle, bottom + 26.0, theme::MARK).middle());
    for (row, run) in runs.iter().enumerate() {
        let middle = TOP + ROW * (row as f64 + 0.5);
        draw_run(&mut sheet, run, &feet, (estimate.unit, middle));
        ask_for(&mut sheet, estimate, run, ruler, (feet.end + 12.0, middle));
    }
    if estimate.runs.len() > runs.len() {
        let words = format!(
            "and {} runs that drive the need less",
            estimate.runs.len() - runs.len()
        );
        sheet.text(Text::new(words, theme::MARGIN, bottom + 38.0, theme::NOTE));
    }
    sheet
}

/// Board feet by which 9 piles of 10 hold a board that takes the run whole.
fn wait(run: &RunNeed) -> Option<f64> {
    let told = run.first_fit.iter().find(|told| told.percent == 90.0);
    told.and_then(|told| told.value)
}

fn heads(sheet: &mut Drawing, end: f64) {
    let y = TOP - 17.0;
    let small = |words: &str, x: f64, y: f64| Text::new(words, x, y, theme::NOTE).ink(theme::FAINT);
    sheet.text(small("run", theme::MARGIN, y + 9.0));
    let words = "bought when 9 piles of 10 hold a board that takes the run whole";
    sheet.text(small(words, LEFT, y + 9.0));
    sheet.text(small("least board that takes it whole,", end + 12.0, y));
    sheet.text(small("flat and clear", end + 12.0, y + 9.0));
}

fn draw_run(sheet: &mut Drawing, run: &RunNeed, feet: &Scale, (unit, middle): (Unit, f64)) {
    let room = LEFT - theme::MARGIN - 8.0;
    let size = font::fit(&run.run, Weight::Bold, room, theme::MARK, theme::LEAST);
    let name = Text::new(
        shortened(&run.run, size, room),
        theme::MARGIN,
        middle + 3.0,
        size.unwrap_or(theme::LEAST),
    );
    sheet.text(name.bold());
    let Some(wait) = wait(run) else { return };
    let bar = Rect::new(feet.start, middle - 5.5, feet.at(wait), middle + 5.5);
    sheet.fill(bar, theme::FAINT);
    let figure = Text::new(asked(unit, wait), bar.right, middle + 3.0, theme::MARK).bold();
    // Inside the bar where there is room for it, beside it where not.
    let inside = figure.length() + 8.0 < bar.width();
    let figure = match inside {
        true => figure
            .ink(theme::PAPER)
            .end()
            .at(bar.right - 4.0, middle + 3.0),
        false => figure.at(bar.right + 4.0, middle + 3.0),
    };
    sheet.text(figure);
}

/// A name cut off where even small letters would run into the next column.
fn shortened(name: &str, size: Option<f64>, room: f64) -> String {
    if size.is_some() {
        return name.to_owned();
    }
    let mut kept = String::new();
    for letter in name.chars() {
        let longer = format!("{kept}{letter}…");
        if font::width(&longer, theme::LEAST, Weight::Bold) > room {
            break;
        }
        kept.push(letter);
    }
    kept + "…"
}

fn ask_for(
    sheet: &mut Drawing,
    estimate: &Estimate,
    run: &RunNeed,
    ruler: Ruler,
    (x, middle): (f64, f64),
) {
    let length = |value: f64| Length::from_unit(value, estimate.unit);
    let words = format!(
        "{}, {} × {}",
        run.thickness,
        ruler.show_with_unit(length(run.length)),
        ruler.show_with_unit(length(run.width)),
    );
    let base = if run.whole {
        middle + 3.0
    } else {
        middle - 1.0
    };
    sheet.text(Text::new(words, x, base, theme::MARK));
    if !run.whole {
        let words = "this yard has none: it will be broken";
        let words = Text::new(words, x, middle + 8.0, theme::NOTE);
        sheet.text(words.ink(theme::FAINT));
    }
}
