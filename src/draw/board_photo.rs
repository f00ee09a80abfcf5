//! A board as its photograph shows it, the blanks drawn over it.

use super::board::board_name;
use super::elevation::{BoardFace, light_at};
use super::render::Canvas;
use super::shape::{Ink, Point, Rect, Text};
use super::sheet::Drawing;
use super::theme;
use crate::job::{Job, PhotoSide};
use crate::plan::{Blank, Face, Plan};

/// A board is parted into lengths that are at most so many times as long as it is wide.
const LONG: f64 = 14.0;
/// Between the lengths of a board, in points.
const GAP: f64 = 14.0;
/// Weight of a blank's outline, and of the paler line round it that tells it from dark wood.
const OUTLINE: (f64, f64) = (1.4, 3.4);

/// `plan.boards[index]` in its photograph, hook end at the left, near edge below; nothing where the side that most
/// blanks show was not photographed.
///
/// # Panics
/// When the plan is not one for this job.
pub fn board_photo(job: &Job, plan: &Plan, index: usize, faces: &[BoardFace]) -> Option<Canvas> {
    let cut = &plan.boards[index];
    let board = &job.boards[cut.board];
    let strips = cut.sections.iter().flat_map(|section| &section.strips);
    let blanks: Vec<&Blank> = strips.flat_map(|strip| &strip.blanks).collect();
    let down = blanks.iter().filter(|blank| blank.face == Face::Down);
    let (side, word) = match 2 * down.count() > blanks.len() {
        true => (PhotoSide::Down, "the side that was down"),
        false => (PhotoSide::Up, "the side that was up"),
    };
    let is_it =
        |face: &&BoardFace| face.board == board.id && face.copy == cut.copy && face.side == side;
    let face = faces.iter().find(is_it)?;
    let rows = Rows::of(board.length.inches(), board.width.inches());
    let mut drawing = Drawing::new(theme::WIDTH, "A board in its photograph");
    drawing.height = rows.bottom(rows.count - 1) + theme::MARGIN;
    let title = format!("{}: {word} when it was measured", board_name(job, cut));
    drawing.text(Text::new(title, theme::MARGIN, theme::TITLE, theme::TITLE).bold());
    let mut canvas = Canvas::of(&drawing);
    let mut lines = Drawing::new(theme::WIDTH, "");
    for row in 0..rows.count {
        canvas.fill(
            rows.rect(row, (0.0, rows.long), (0.0, rows.wide)),
            |point| {
                let (along, across) = rows.on_board(row, point);
                Some(light_at(&face.strip, along, across))
            },
        );
        for blank in &blanks {
            outline(&mut lines, job, blank, &rows, row);
        }
    }
    canvas.over(&lines);
    Some(canvas)
}

fn outline(lines: &mut Drawing, job: &Job, blank: &Blank, rows: &Rows, row: usize) {
    let along = (blank.from.inches(), blank.to.inches());
    let rect = rows.rect(row, along, (blank.low.inches(), blank.high.inches()));
    if rect.right - rect.left < 1.0 {
        return;
    }
    lines.outline(rect.corners(), OUTLINE.1, Ink::WHITE);
    lines.outline(rect.corners(), OUTLINE.0, Ink::BLACK);
    let name = match blank.staves {
        1 => job.fronts[blank.front].name.clone(),
        _ => format!("{} stave {}", job.fronts[blank.front].name, blank.stave),
    };
    let middle = rect.centre();
    let text = Text::new(name, middle.x, middle.y + theme::WORD / 3.0, theme::WORD).bold();
    let text = text.middle();
    // Only where it fits: the next length of the board has the rest.
    if text.extent().width() < rect.width() {
        lines.text_on(text, Ink::WHITE);
    }
}

/// A board's lengths, one below another.
struct Rows {
    count: usize,
    /// Each one's length, and the board's width, in inches.
    each: f64,
    long: f64,
    wide: f64,
    /// Points an inch.
    scale: f64,
}

impl Rows {
    fn of(long: f64, wide: f64) -> Rows {
        let count = (long / (LONG * wide)).ceil().max(1.0);
        let each = long / count;
        Rows {
            count: count as usize,
            each,
            long,
            wide,
            scale: (theme::WIDTH - 2.0 * theme::MARGIN) / each,
        }
    }

    fn bottom(&self, row: usize) -> f64 {
        let high = self.wide * self.scale;
        theme::TITLE + theme::MARGIN + (row + 1) as f64 * high + row as f64 * GAP
    }

    /// Where a part of the board lies in one of its lengths; empty where it lies in another.
    fn rect(&self, row: usize, along: (f64, f64), across: (f64, f64)) -> Rect {
        let from = row as f64 * self.each;
        let x = |at: f64| theme::MARGIN + (at - from).clamp(0.0, self.each) * self.scale;
        let y = |at: f64| self.bottom(row) - at * self.scale;
        Rect {
            left: x(along.0),
            right: x(along.1),
            top: y(across.1),
            bottom: y(across.0),
        }
    }

    fn on_board(&self, row: usize, point: Point) -> (f64, f64) {
        let along = row as f64 * self.each + (point.x - theme::MARGIN) / self.scale;
        (along, (self.bottom(row) - point.y) / self.scale)
    }
}
