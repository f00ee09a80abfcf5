//! Where the fronts stand on the case, as far as the runs tell.

use super::Easel;
use crate::draw::shape::Rect;
use crate::draw::theme;
use crate::job::{Front, Grain, Job, Run};
use crate::measure::Length;

/// Between neighbours of a run for which the job gives no distance: a usual reveal between
/// inset fronts (common practice, no source). It is drawn, not built.
const GAP: f64 = 0.125;
/// Between runs, in inches, drawn wide enough for a bracket.
const RUN_GAP_SHARE: f64 = 0.035;
/// Room between runs, in points, that a bracket with its board's name needs.
pub const BRACKET: f64 = 10.5;
/// Left and right of all fronts together: a bracket beside the last column needs a little more
/// than the margin.
const SIDES: f64 = 4.0 * theme::MARGIN;
/// No case is drawn larger than this, in points for each inch.
const LARGEST_SCALE: f64 = 20.0;

/// A front with its place, in inches from the arrangement's upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Index into `Job::fronts`.
    pub front: usize,
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

/// All fronts with their places.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrangement {
    /// The fronts, run by run.
    pub fronts: Vec<Placed>,
    /// Width of all, in inches.
    pub width: f64,
    /// Height of all, in inches.
    pub height: f64,
    room: Room,
}

/// What fronts are arranged in.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Room {
    /// Between runs, in inches.
    gap: f64,
    /// Of the sheet.
    easel: Easel,
}

/// How inches of the arrangement become points on the sheet.
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    left: f64,
    top: f64,
    /// Points for each inch.
    pub scale: f64,
    /// Where the arrangement ends.
    pub bottom: f64,
    /// Between runs, in points.
    pub gap: f64,
    /// Where the sheet's margin begins on the right.
    pub right: f64,
}

/// Runs that stand together: one row, or columns side by side.
struct Block {
    columns: bool,
    fronts: Vec<Placed>,
    width: f64,
    height: f64,
}

impl Arrangement {
    /// Rows from the top in the order of the job, wrapped into as many columns as let it be
    /// drawn largest.
    pub fn of(job: &Job, easel: Easel) -> Arrangement {
        let mut gap = run_gap(job);
        let mut best = Arrangement::with_gap(job, Room { gap, easel });
        // Small scales leave a bracket no room: a wider gap makes the scale smaller still.
        for _ in 0..4 {
            if gap * best.scale() >= BRACKET {
                break;
            }
            gap = 1.1 * BRACKET / best.scale();
            best = Arrangement::with_gap(job, Room { gap, easel });
        }
        best
    }

    fn with_gap(job: &Job, room: Room) -> Arrangement {
        let blocks = blocks(job, room.gap);
        let in_order = largest(&blocks, room);
        let (rows, columns): (Vec<Block>, Vec<Block>) =
            blocks.into_iter().partition(|block| !block.columns);
        let apart = beside(largest(&columns, room), largest(&rows, room));
        if apart.scale() > in_order.scale() {
            apart
        } else {
            in_order
        }
    }

    fn empty(room: Room) -> Arrangement {
        Arrangement {
            fronts: Vec::new(),
            width: 0.0,
            height: 0.0,
            room,
        }
    }

    fn scale(&self) -> f64 {
        let easel = self.room.easel;
        ((easel.width - SIDES) / self.width.max(1.0))
            .min(easel.height / self.height.max(1.0))
            .min(LARGEST_SCALE)
    }

    /// The frame that centres the arrangement on the sheet, its top at `top`.
    pub fn frame(&self, top: f64) -> Frame {
        let scale = self.scale();
        Frame {
            left: (self.room.easel.width - self.width * scale) / 2.0,
            top,
            scale,
            bottom: top + self.height * scale,
            gap: self.room.gap * scale,
            right: self.room.easel.width - theme::MARGIN,
        }
    }
}

impl Frame {
    /// Where a front stands on the sheet.
    pub fn rect(&self, placed: &Placed) -> Rect {
        let left = self.left + placed.left * self.scale;
        let top = self.top + placed.top * self.scale;
        Rect::new(
            left,
            top,
            left + placed.width * self.scale,
            top + placed.height * self.scale,
        )
    }
}

/// The larger the case, the more inches a bracket between two runs takes.
fn run_gap(job: &Job) -> f64 {
    let face: f64 = job
        .fronts
        .iter()
        .map(|f| f.width.inches() * f.height.inches())
        .sum();
    face.sqrt() * RUN_GAP_SHARE
}

fn grain(job: &Job, run: &Run) -> Grain {
    run.fronts
        .first()
        .map_or(Grain::Horizontal, |&front| job.fronts[front].grain)
}

fn blocks(job: &Job, gap: f64) -> Vec<Block> {
    let runs: Vec<&Run> = job.runs.iter().collect();
    runs.chunk_by(|a, b| grain(job, a) == Grain::Vertical && grain(job, b) == Grain::Vertical)
        .map(|runs| match grain(job, runs[0]) {
            Grain::Horizontal => row(job, runs[0]),
            Grain::Vertical => columns(job, runs, gap),
        })
        .collect()
}

fn after(front: &Front) -> f64 {
    front.space_after.map_or(GAP, Length::inches)
}

/// A run side by side, bottoms level.
fn row(job: &Job, run: &Run) -> Block {
    let heights = run.fronts.iter().map(|&f| job.fronts[f].height.inches());
    let height = heights.fold(0.0, f64::max);
    let mut block = Block {
        columns: false,
        fronts: Vec::new(),
        width: 0.0,
        height,
    };
    let mut space = 0.0;
    for &index in &run.fronts {
        let front = &job.fronts[index];
        let left = block.width + space;
        block.fronts.push(Placed {
            front: index,
            left,
            top: height - front.height.inches(),
            width: front.width.inches(),
            height: front.height.inches(),
        });
        block.width = left + front.width.inches();
        space = after(front);
    }
    block
}

/// Runs as columns, each built from the bottom up, bottoms level.
fn columns(job: &Job, runs: &[&Run], gap: f64) -> Block {
    let total = |run: &Run| {
        let mut space = 0.0;
        run.fronts.iter().fold(0.0, |sum, &f| {
            let front = &job.fronts[f];
            let sum = sum + space + front.height.inches();
            space = after(front);
            sum
        })
    };
    let height = runs.iter().map(|run| total(run)).fold(0.0, f64::max);
    let mut block = Block {
        columns: true,
        fronts: Vec::new(),
        width: 0.0,
        height,
    };
    for (i, run) in runs.iter().enumerate() {
        let left = block.width + if i > 0 { gap } else { 0.0 };
        let mut bottom = height;
        for &index in &run.fronts {
            let front = &job.fronts[index];
            let top = bottom - front.height.inches();
            block.fronts.push(Placed {
                front: index,
                left,
                top,
                width: front.width.inches(),
                height: front.height.inches(),
            });
            block.width = block.width.max(left + front.width.inches());
            bottom = top - after(front);
        }
    }
    block
}

/// Blocks stacked in as many columns as let them be drawn largest.
fn largest(blocks: &[Block], room: Room) -> Arrangement {
    (1..=blocks.len().clamp(1, 8))
        .map(|columns| stack(blocks, columns, room))
        .max_by(|a, b| a.scale().total_cmp(&b.scale()))
        .unwrap_or_else(|| Arrangement::empty(room))
}

/// Two arrangements side by side, bottoms level.
fn beside(left: Arrangement, right: Arrangement) -> Arrangement {
    let height = left.height.max(right.height);
    let shift = if left.fronts.is_empty() {
        0.0
    } else {
        left.width + 2.0 * left.room.gap
    };
    let mut all = Arrangement {
        width: shift + right.width,
        height,
        ..Arrangement::empty(left.room)
    };
    for (part, dx) in [(&left, 0.0), (&right, shift)] {
        all.fronts.extend(part.fronts.iter().map(|placed| Placed {
            left: placed.left + dx,
            top: placed.top + height - part.height,
            ..*placed
        }));
    }
    all
}

/// Blocks one below another, in `columns` columns of about equal height.
fn stack(blocks: &[Block], columns: usize, room: Room) -> Arrangement {
    let gap = room.gap;
    let total: f64 = blocks.iter().map(|b| b.height + gap).sum();
    let target = total / columns as f64;
    let mut all = Arrangement::empty(room);
    let (mut left, mut top, mut done) = (0.0, 0.0, 0.0);
    let (mut column_width, mut column): (f64, f64) = (0.0, 0.0);
    for block in blocks {
        let middle = done + block.height / 2.0;
        let of_middle = (middle / target).floor();
        if top > 0.0 && of_middle > column {
            column = of_middle;
            left += column_width + 2.0 * gap;
            (top, column_width) = (0.0, 0.0);
        }
        all.fronts.extend(block.fronts.iter().map(|placed| Placed {
            left: placed.left + left,
            top: placed.top + top,
            ..*placed
        }));
        all.width = all.width.max(left + block.width);
        all.height = all.height.max(top + block.height);
        column_width = column_width.max(block.width);
        top += block.height + gap;
        done += block.height + gap;
    }
    all
}
