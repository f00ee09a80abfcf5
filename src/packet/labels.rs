//! `labels.pdf`: one label a front, to stick on the finished piece, and one for each stave of a
//! glued front, to stick on the stave until it is glued.
//!
//! A label is stuck on as the front hangs: its black bar at the front's left, its arrow up.

use super::pdf::{Paper, sheets_to_pdf};
use super::pieces::PieceOf;
use crate::draw::{Drawing, Ink, Point, Rect, Text, Weight, board_name, fit_text, writable};
use crate::job::{Front, Job, Labels};
use crate::plan::Plan;

/// The labels as a PDF file, on the sheets that `[labels]` of the job describes.
///
/// # Panics
/// When the plan's indices do not point into `job`.
pub fn labels_pdf(job: &Job, plan: &Plan) -> Vec<u8> {
    let title = match job.settings.title.trim() {
        "" => "Labels".to_owned(),
        title => format!("{title}: labels"),
    };
    sheets_to_pdf(&label_sheets(job, plan), &title)
}

/// The labels of the fronts made and of their staves, in the order of the job's runs, on as many
/// sheets as it takes.
pub fn label_sheets(job: &Job, plan: &Plan) -> Vec<Drawing> {
    let job = &*writable(job);
    let settings = &job.settings.labels;
    let (width, height) = settings.sheet_size(job.settings.unit);
    let paper = Paper::of_size(width, height);
    let a_sheet = (settings.rows * settings.columns) as usize;
    let first = (settings.start - 1) as usize;
    let mut sheets = Vec::new();
    for (i, label) in labels(job, plan).iter().enumerate() {
        let spot = first + i;
        while sheets.len() <= spot / a_sheet {
            let title = format!("Labels, sheet {}", sheets.len() + 1);
            sheets.push(Drawing {
                height: paper.height,
                ..Drawing::new(paper.width, title)
            });
        }
        let rect = place(settings, job, spot % a_sheet);
        draw(&mut sheets[spot / a_sheet], rect, label);
    }
    if sheets.is_empty() {
        sheets.push(none_made(paper));
    }
    sheets
}

/// A sheet that says why it is empty: a PDF file has a page at the least.
fn none_made(paper: Paper) -> Drawing {
    let mut sheet = Drawing {
        height: paper.height,
        ..Drawing::new(paper.width, "Labels")
    };
    let words = "This plan makes no front, so there are no labels.";
    let margin = (paper.width.min(paper.height) / 6.0).min(36.0);
    let room = paper.width - 2.0 * margin;
    let size = fit_text(words, Weight::Regular, room, 14.0, 3.0).unwrap_or(3.0);
    sheet.text(Text::new(words, margin, 2.0 * margin, size));
    sheet
}

/// What a label says.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Label {
    name: String,
    size: String,
    boards: String,
    run: String,
}

fn labels(job: &Job, plan: &Plan) -> Vec<Label> {
    let pieces = PieceOf::all(job, plan);
    let mut labels = Vec::new();
    for run in &job.runs {
        for (place, &front) in run.fronts.iter().enumerate() {
            let mut boards: Vec<String> = Vec::new();
            let place = format!("{}, {} of {}", run.name, place + 1, run.fronts.len());
            let alone = run.fronts.len() == 1 && run.name == job.fronts[front].name;
            let run = if alone { String::new() } else { place };
            let mut staves: Vec<&PieceOf> =
                pieces.iter().filter(|p| p.blank.front == front).collect();
            staves.sort_by_key(|piece| piece.blank.stave);
            for piece in staves {
                if piece.blank.staves > 1 {
                    labels.push(of_stave(piece, &run));
                }
                let name = board_name(job, piece.cut);
                if !boards.contains(&name) {
                    boards.push(name);
                }
            }
            if boards.is_empty() {
                continue;
            }
            labels.push(Label {
                name: job.fronts[front].name.clone(),
                size: size(job, &job.fronts[front]),
                boards: format!("board {}", boards.join(" + ")),
                run,
            });
        }
    }
    labels
}

/// A stave's own size is that of its rough blank: its finished one is the front's.
fn of_stave(piece: &PieceOf, run: &str) -> Label {
    let ruler = piece.job.settings.ruler();
    let blank = piece.blank;
    let (long, wide) = (blank.to - blank.from, blank.high - blank.low);
    let size = format!(
        "{} × {} {} rough",
        ruler.show(long),
        ruler.show(wide),
        ruler.unit
    );
    Label {
        name: piece.name(),
        size,
        boards: format!("board {}", board_name(piece.job, piece.cut)),
        run: run.to_owned(),
    }
}

fn size(job: &Job, front: &Front) -> String {
    let ruler = job.settings.ruler();
    let sides = [front.width, front.height, front.thickness]
        .map(|side| ruler.for_finished(side).show(side));
    format!("{} {}", sides.join(" × "), ruler.unit)
}

/// Where a label lies on its sheet.
fn place(settings: &Labels, job: &Job, spot: usize) -> Rect {
    let (width, height) = settings.label_size(job.settings.unit);
    let (row, column) = (
        spot as i64 / settings.columns,
        spot as i64 % settings.columns,
    );
    let left = settings.margin_left + (width + settings.gap_across) * column;
    let top = settings.margin_top + (height + settings.gap_down) * row;
    let points = |length: crate::measure::Length| length.inches() * 72.0;
    Rect::new(
        points(left),
        points(top),
        points(left + width),
        points(top + height),
    )
}

/// Draws a label, with room to spare all round because printers shift.
fn draw(sheet: &mut Drawing, rect: Rect, label: &Label) {
    let inner = rect.inset((rect.height() * 0.09).clamp(3.0, 7.0));
    sheet.fill(
        Rect::new(inner.left, inner.top, inner.left + 3.0, inner.bottom),
        Ink::BLACK,
    );
    let arrow_width = (inner.height() * 0.28).min(14.0);
    let arrow = Rect::new(
        inner.right - arrow_width,
        inner.top,
        inner.right,
        inner.top + arrow_width * 1.8,
    );
    up_arrow(sheet, arrow);
    let left = inner.left + 8.0;
    let room = arrow.left - 4.0 - left;
    let lines = [
        (label.name.as_str(), Weight::Bold, 0.36, 16.0),
        (label.size.as_str(), Weight::Regular, 0.22, 10.0),
        (label.boards.as_str(), Weight::Regular, 0.2, 9.0),
        (label.run.as_str(), Weight::Regular, 0.2, 9.0),
    ];
    let mut y = inner.top;
    for (words, weight, share, most) in lines {
        let step = inner.height() * share;
        let size = (step * 0.86).min(most);
        if let Some(size) = fit_text(words, weight, room, size, 3.0).filter(|_| !words.is_empty()) {
            let text = Text {
                weight,
                ..Text::new(words, left, y + size * 0.8, size)
            };
            sheet.text(text);
        }
        y += (size * 1.28).min(step);
    }
}

fn up_arrow(sheet: &mut Drawing, spot: Rect) {
    let middle = spot.centre().x;
    let neck = spot.top + spot.width() * 0.9;
    let head = [
        Point::new(middle, spot.top),
        Point::new(spot.right, neck),
        Point::new(spot.left, neck),
    ];
    sheet.area(head, Ink::BLACK);
    let (from, to) = (
        Point::new(middle, neck - 1.0),
        Point::new(middle, spot.bottom),
    );
    sheet.line(from, to, spot.width() * 0.25, Ink::BLACK);
}

#[cfg(test)]
mod tests;
