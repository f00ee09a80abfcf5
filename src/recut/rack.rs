//! What is left when the job is done, for the next one.

use crate::job::{Board, Defect, Job};
use crate::measure::{Length, Ruler, Unit};
use crate::plan::{BoardPlan, Kept, Plan, Sawn};

use super::kept::{cut_through, kept};

/// A piece that goes back on the rack: a whole board, or what is kept of one.
#[derive(Clone, Debug, PartialEq)]
pub struct RackPiece {
    /// Its name: the board's, or `B3 rest 1`.
    pub name: String,
    /// The piece as a board of its own, a rest's sizes rounded down to what the job's ruler shows;
    /// its defects are measured on it.
    pub board: Board,
    /// Where it comes from.
    pub from: String,
}

/// The pieces left after `plan`: kept pieces and owned boards not used, in the order of the boards.
/// Boards on offer that the plan does not buy are not there to be kept.
pub fn rack(job: &Job, plan: &Plan, sawn: &Sawn) -> Vec<RackPiece> {
    let mut pieces = Vec::new();
    let begun = sawn.skeleton().boards();
    for (index, board) in job.boards.iter().enumerate() {
        for &copy in &board.copies {
            let here = |b: &&BoardPlan| (b.board, b.copy) == (index, copy);
            let cut = plan.boards.iter().find(here).or(begun.iter().find(here));
            let through = sawn.crosscuts.iter();
            let mut through = through.filter(|cut| (cut.board, cut.copy) == (index, copy));
            if let Some(cut) = cut.filter(|cut| !cut.sections.is_empty()) {
                // Cut through since the plan was made, maybe: its own kept pieces may not be whole.
                let kept = kept(job, cut, sawn);
                pieces.extend(kept_pieces(job, board, copy, &kept));
            } else if through.next().is_some() {
                let kept = lengths(job, (index, copy), sawn);
                pieces.extend(kept_pieces(job, board, copy, &kept));
            } else if board.price.is_none() {
                pieces.push(whole(job, board, copy));
            }
        }
    }
    pieces
}

/// The lengths of a board that is cut through and else untouched, those too short to keep left out.
fn lengths(job: &Job, (board, copy): (usize, u32), sawn: &Sawn) -> Vec<Kept> {
    let uncut = BoardPlan {
        board,
        copy,
        ..BoardPlan::default()
    };
    let shortest = job.settings.allowances.keep_offcut;
    let board = &job.boards[board];
    let spans = cut_through(job, &uncut, &sawn.crosscuts, Length::ZERO, board.length);
    let long_enough =
        |(from, to): &(Length, Length)| shortest.is_some_and(|least| *to - *from >= least);
    let whole = |(from, to)| Kept {
        from,
        to,
        low: Length::ZERO,
        high: board.width,
    };
    spans.into_iter().filter(long_enough).map(whole).collect()
}

fn name(job: &Job, board: &Board, copy: u32) -> String {
    let copies = job.boards.iter().filter(|b| b.id == board.id);
    match copies.map(|b| b.copies.len()).sum::<usize>() {
        0 | 1 => board.id.clone(),
        _ => format!("{}.{copy}", board.id),
    }
}

fn whole(job: &Job, board: &Board, copy: u32) -> RackPiece {
    let name = name(job, board, copy);
    RackPiece {
        board: Board {
            id: name.clone(),
            copies: vec![1],
            ..board.clone()
        },
        name,
        from: "not used".to_owned(),
    }
}

fn kept_pieces(job: &Job, board: &Board, copy: u32, kept: &[Kept]) -> Vec<RackPiece> {
    let of = name(job, board, copy);
    let ruler = job.settings.ruler();
    let piece = |(index, kept): (usize, &Kept)| {
        let whole = *kept;
        let kept = &Kept {
            to: whole.from + down(&ruler, whole.to - whole.from),
            high: whole.low + down(&ruler, whole.high - whole.low),
            ..whole
        };
        let name = format!("{of} rest {}", index + 1);
        let from = format!(
            "left of {of}: {} to {} from its hook end, {} to {} from its near edge",
            ruler.show(kept.from),
            ruler.show(kept.to),
            ruler.show(kept.low),
            ruler.show(kept.high),
        );
        RackPiece {
            board: part(board, &whole, kept, &name),
            name,
            from,
        }
    };
    kept.iter().enumerate().map(piece).collect()
}

/// A length to the ruler's fraction, down: no piece is told larger than it is.
fn down(ruler: &Ruler, length: Length) -> Length {
    let step = match ruler.unit {
        Unit::Inch => Length::from_inches(1.0 / f64::from(ruler.fraction)),
        Unit::Mm => Length::from_mm(0.1),
    };
    step * length.nm().div_euclid(step.nm())
}

/// A kept piece, rounded from `whole`, as a board: warp goes with its size as flattening reckons it, defects are those
/// that lie on it. Thickness stays as measured.
fn part(board: &Board, whole: &Kept, kept: &Kept, name: &str) -> Board {
    // A sawn end is clean: nothing need be trimmed off it.
    let sawn = |sawn: bool| sawn.then_some(Length::ZERO);
    let along = (kept.to - kept.from).inches() / board.length.inches();
    let across = (kept.high - kept.low).inches() / board.width.inches();
    let scaled = |warp: Length, by: f64| Length::from_nm((warp.nm() as f64 * by).round() as i64);
    let clip = |at: Length, from: Length, to: Length| at.max(from).min(to) - from;
    let on = |d: &&Defect| {
        d.from < kept.to && kept.from < d.to && d.low < kept.high && kept.low < d.high
    };
    let moved = |d: &Defect| Defect {
        from: clip(d.from, kept.from, kept.to),
        to: clip(d.to, kept.from, kept.to),
        low: clip(d.low, kept.low, kept.high),
        high: clip(d.high, kept.low, kept.high),
        ..d.clone()
    };
    Board {
        id: name.to_owned(),
        copies: vec![1],
        length: kept.to - kept.from,
        width: kept.high - kept.low,
        bow: scaled(board.bow, along * along),
        cup: scaled(board.cup, across * across),
        twist: scaled(board.twist, along * across),
        crook: scaled(board.crook, along * along),
        trim_hook: sawn(whole.from > Length::ZERO).or(board.trim_hook),
        trim_far: sawn(whole.to < board.length).or(board.trim_far),
        price: None,
        defects: board.defects.iter().filter(on).map(moved).collect(),
        ..board.clone()
    }
}
