//! How the fronts stand: as `[case]` and their own places say, else as far as the runs tell.

use super::arrange::{Arrangement, Assumed, Body, Placed, Room};
use crate::draw::shape::Rect;
use crate::job::{Front, Grain, Job};
use crate::measure::Length;

/// Between neighbours of a run for which the job gives no distance: a usual reveal between
/// inset fronts (common practice, no source). It is drawn, not built.
const GAP: f64 = 0.125;
/// Items of a row are set no farther apart than this many rails to fill it.
const MOST_RAILS: f64 = 4.0;
/// How many times as large several banks must be drawn to be worth it.
const WORTH_FOLDING: f64 = 1.5;

/// Fronts that stand together: one row, or columns side by side.
#[derive(Clone, Debug)]
struct Block {
    fronts: Vec<Placed>,
    width: f64,
    height: f64,
}

/// All fronts with their places, and what had to be assumed for that.
pub fn arrange(job: &Job, room: Room) -> Arrangement {
    let mut arranged = if job.fronts.iter().any(|front| front.stands.is_some()) {
        as_told(job, room)
    } else if job.settings.case.rows.is_empty() {
        as_runs_tell(job, room)
    } else {
        let all = (0..job.fronts.len()).collect::<Vec<usize>>();
        enclosed(job, stack(&rows(job, room.gap, &all), 1, room))
    };
    arranged.assumed.extend(gaps(job));
    arranged.trimmed()
}

/// Rows of the runs, one below another; in several banks where that shows much more.
fn as_runs_tell(job: &Job, room: Room) -> Arrangement {
    let all = (0..job.fronts.len()).collect::<Vec<usize>>();
    let blocks = rows(job, room.gap, &all);
    let one = enclosed(job, stack(&blocks, 1, room));
    let mut best = (1, one.clone().trimmed());
    let sizes = &job.settings.case;
    let may_fold = sizes.width.is_none() && sizes.height.is_none();
    for banks in 2..=blocks.len().min(8) {
        let folded = enclosed(job, stack(&blocks, banks, room)).trimmed();
        if may_fold && folded.scale() > best.1.scale() {
            best = (banks, folded);
        }
    }
    let (banks, mut folded) = best;
    if banks == 1 || folded.scale() < WORTH_FOLDING * one.clone().trimmed().scale() {
        return one;
    }
    folded.assumed.retain(|assumed| *assumed != Assumed::Rows);
    folded
        .assumed
        .insert(0, Assumed::Banks(folded.bodies.len()));
    folded
}

/// Fronts where their rows say; the rest beside the case.
fn as_told(job: &Job, room: Room) -> Arrangement {
    let case = &job.settings.case;
    let (told, rest): (Vec<usize>, Vec<usize>) =
        (0..job.fronts.len()).partition(|&front| job.fronts[front].stands.is_some());
    let mut all = Arrangement::empty(room);
    let placed = told.iter().filter_map(|&index| {
        let front = &job.fronts[index];
        let stands = front.stands?;
        let (left, up) = (stands.across.inches(), stands.up.inches());
        Some(Placed {
            top: -up - front.height.inches(),
            left,
            ..place(index, front)
        })
    });
    all.fronts.extend(placed);
    // A side that is not told is taken to be as wide as the other.
    let rects = || all.fronts.iter().map(Placed::rect);
    let left = rects().map(|rect| rect.left).fold(f64::MAX, f64::min);
    let right = rects().map(|rect| rect.right).fold(0.0, f64::max);
    let foot = rects().map(|rect| -rect.bottom).fold(f64::MAX, f64::min);
    let top = rects().map(|rect| -rect.top).fold(0.0, f64::max);
    let width = case.width.map_or(right + left, Length::inches);
    let height = case.height.map_or(top + foot, Length::inches);
    let rect = Rect::new(0.0, -height, width, 0.0);
    all.bodies.push(body(job, rect));
    if !rest.is_empty() {
        let (beside, banks) = stack(&rows(job, room.gap, &rest), 1, room);
        let shift = width.max(right) + 2.0 * room.gap;
        let high = banks.iter().map(Rect::height).fold(0.0, f64::max);
        all.fronts
            .extend(beside.fronts.into_iter().map(|one| Placed {
                left: one.left + shift,
                top: one.top - high,
                ..one
            }));
        all.assumed.push(Assumed::Beside(rest));
    }
    all.assumed.extend(sizes(job));
    all
}

fn body(job: &Job, rect: Rect) -> Body {
    let case = &job.settings.case;
    Body {
        rect,
        known: (case.width.is_some(), case.height.is_some()),
    }
}

/// What is not said of the case's size.
fn sizes(job: &Job) -> Vec<Assumed> {
    let case = &job.settings.case;
    let width = case.width.is_none().then_some(Assumed::Width);
    let height = case.height.is_none().then_some(Assumed::Height);
    width.into_iter().chain(height).collect()
}

/// The reveal between neighbours for which the job gives no distance.
fn gaps(job: &Job) -> Option<Assumed> {
    let mut pairs = job.runs.iter().flat_map(|run| run.fronts.windows(2));
    let untold = |pair: &[usize]| {
        let one = &job.fronts[pair[0]];
        one.stands.is_none() && one.space_after.is_none()
    };
    pairs.any(untold).then_some(Assumed::Gaps(GAP))
}

/// Stacked banks with the case around each, and what was assumed.
fn enclosed(job: &Job, (mut all, banks): (Arrangement, Vec<Rect>)) -> Arrangement {
    let case = &job.settings.case;
    let (gap, alone) = (all.gap(), banks.len() == 1);
    for bank in banks {
        let around = bank.inset(-gap);
        let centre = around.centre();
        let half = |said: Option<Length>, drawn: f64| {
            said.filter(|_| alone).map_or(drawn, Length::inches) / 2.0
        };
        let wide = half(case.width, around.width());
        let high = half(case.height, around.height());
        let rect = Rect::new(
            centre.x - wide,
            centre.y - high,
            centre.x + wide,
            centre.y + high,
        );
        all.bodies.push(body(job, rect));
    }
    if case.rows.is_empty() && job.runs.len() > 1 {
        all.assumed.push(Assumed::Rows);
    }
    if case.rail.is_none() && job.runs.len() > 1 {
        all.assumed.push(Assumed::Rails(gap));
    }
    all.assumed.extend(sizes(job));
    all
}

fn place(index: usize, front: &Front) -> Placed {
    Placed {
        front: index,
        left: 0.0,
        top: 0.0,
        width: front.width.inches(),
        height: front.height.inches(),
    }
}

/// The rows from top to bottom: those of `[case]`, then those that the runs tell.
fn rows(job: &Job, gap: f64, among: &[usize]) -> Vec<Block> {
    let listed = |items: Vec<Vec<usize>>| -> Vec<Vec<usize>> {
        let kept = items.into_iter().map(|item| {
            let item = item.into_iter();
            item.filter(|front| among.contains(front)).collect()
        });
        kept.filter(|item: &Vec<usize>| !item.is_empty()).collect()
    };
    let mut rows: Vec<Vec<Vec<usize>>> = job.case_rows().into_iter().map(listed).collect();
    let done: Vec<usize> = rows.iter().flatten().flatten().copied().collect();
    let rest = |fronts: &Vec<usize>| -> Vec<usize> {
        let open = fronts.iter().copied();
        open.filter(|front| !done.contains(front)).collect()
    };
    let left = listed(job.runs.iter().map(|run| rest(&run.fronts)).collect());
    let upright = |item: &Vec<usize>| stands_up(&job.fronts[item[0]]);
    let guessed = left.chunk_by(|a, b| upright(a) && upright(b));
    rows.extend(guessed.map(<[Vec<usize>]>::to_vec));
    rows.retain(|row| !row.is_empty());
    let widest = rows.iter().map(|row| side_by_side(job, row, gap).width);
    let inner = job
        .settings
        .case
        .width
        .map(|width| width.inches() - 2.0 * gap);
    let widest = inner.unwrap_or_else(|| widest.fold(0.0, f64::max));
    rows.iter()
        .map(|row| filled(job, row, gap, widest))
        .collect()
}

/// A row whose items are set apart so that it is as wide as all, if they do not fall apart then.
fn filled(job: &Job, row: &[Vec<usize>], gap: f64, wide: f64) -> Block {
    let block = side_by_side(job, row, gap);
    let more = (wide - block.width) / (row.len() as f64 - 1.0).max(1.0);
    let apart = gap + more;
    match row.len() > 1 && more > 0.0 && apart <= MOST_RAILS * gap {
        true => side_by_side(job, row, apart),
        false => block,
    }
}

/// Whether the fronts of a run stand one above another.
fn stands_up(front: &Front) -> bool {
    (front.grain == Grain::Vertical) != front.alike
}

/// Items of a row from left to right, bottoms level.
fn side_by_side(job: &Job, row: &[Vec<usize>], gap: f64) -> Block {
    let items: Vec<Block> = row.iter().map(|item| one_run(job, item)).collect();
    let height = items.iter().map(|item| item.height).fold(0.0, f64::max);
    let mut block = Block {
        fronts: Vec::new(),
        width: 0.0,
        height,
    };
    for (i, item) in items.into_iter().enumerate() {
        let left = block.width + if i > 0 { gap } else { 0.0 };
        block
            .fronts
            .extend(item.fronts.into_iter().map(|one| Placed {
                left: one.left + left,
                top: one.top + height - item.height,
                ..one
            }));
        block.width = left + item.width;
    }
    block
}

/// Fronts of one run: left to right, or from the bottom up.
fn one_run(job: &Job, fronts: &[usize]) -> Block {
    let up = fronts.first().is_some_and(|&f| stands_up(&job.fronts[f]));
    let mut block = Block {
        fronts: Vec::new(),
        width: 0.0,
        height: 0.0,
    };
    let mut at = 0.0;
    for &index in fronts {
        let front = &job.fronts[index];
        let one = place(index, front);
        let after = front.space_after.map_or(GAP, Length::inches);
        // Measured upwards from the row's foot until its height is known.
        let (left, foot) = if up { (0.0, at) } else { (at, 0.0) };
        block.width = block.width.max(left + one.width);
        block.height = block.height.max(foot + one.height);
        at += after + if up { one.height } else { one.width };
        block.fronts.push(Placed {
            left,
            top: -foot - one.height,
            ..one
        });
    }
    for placed in &mut block.fronts {
        placed.top += block.height;
    }
    block
}

/// Blocks one below another in `columns` banks of about equal height, each block in the middle of
/// its bank; and what each bank covers.
fn stack(blocks: &[Block], columns: usize, room: Room) -> (Arrangement, Vec<Rect>) {
    let gap = room.gap;
    let total: f64 = blocks.iter().map(|b| b.height + gap).sum();
    let target = total / columns as f64;
    let mut banks: Vec<Vec<&Block>> = vec![Vec::new()];
    let (mut done, mut bank) = (0.0, 0.0);
    for block in blocks {
        let of_middle = ((done + block.height / 2.0) / target).floor();
        if of_middle > bank && banks.last().is_some_and(|bank| !bank.is_empty()) {
            bank = of_middle;
            banks.push(Vec::new());
        }
        banks
            .iter_mut()
            .last()
            .into_iter()
            .for_each(|bank| bank.push(block));
        done += block.height + gap;
    }
    let mut all = Arrangement::empty(room);
    let (mut left, mut rects) = (0.0, Vec::new());
    for bank in banks {
        let width = bank.iter().map(|block| block.width).fold(0.0, f64::max);
        let mut top = 0.0;
        for block in bank {
            let aside = left + (width - block.width) / 2.0;
            all.fronts.extend(block.fronts.iter().map(|placed| Placed {
                left: placed.left + aside,
                top: placed.top + top,
                ..*placed
            }));
            top += block.height + gap;
        }
        rects.push(Rect::new(left, 0.0, left + width, (top - gap).max(0.0)));
        left += width + 4.0 * gap;
    }
    (all, rects)
}
