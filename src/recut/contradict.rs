//! What the job's files say now that past cuts contradict: told before anything is planned.

use std::collections::{BTreeMap, BTreeSet};

use crate::job::{Crosscut, Done, FrontDone, Job};
use crate::measure::Length;
use crate::plan::{Dropped, Earlier, Fate, Sawn, SawnPiece};

use super::begun::{BegunFault, begun};

/// What the saw has done, from the present plan and what is marked since, as [`begun`]; and every
/// way in which the files, changed since, can't be true of what is cut.
///
/// # Errors
/// Every contradiction, each with what to do.
pub fn begun_on(job: &Job, earlier: &Earlier, done: &Done) -> Result<Sawn, Vec<BegunFault>> {
    let mut faults = gone(job, earlier, done);
    if !faults.is_empty() {
        return Err(faults);
    }
    let sawn = begun(job, &earlier.plan, &earlier.sawn, done)?;
    faults.extend(forgotten(job, earlier, done));
    for piece in &sawn.pieces {
        faults.extend(off_board(job, piece));
        faults.extend(too_small(job, piece));
        faults.extend(elsewhere(job, piece));
    }
    for cut in &sawn.crosscuts {
        faults.extend(through_or_beside(job, earlier, &sawn, cut));
    }
    if faults.is_empty() {
        Ok(sawn)
    } else {
        Err(faults)
    }
}

/// Boards and fronts that are gone from the files, though something was cut from them.
fn gone(job: &Job, earlier: &Earlier, done: &Done) -> Vec<BegunFault> {
    let marked = |name: &str| {
        let index = job.fronts.iter().position(|front| front.name == name);
        index.is_some_and(|index| done.front(index) != FrontDone::default())
    };
    let mut by_board: BTreeMap<(&str, u32), BTreeSet<&str>> = BTreeMap::new();
    let mut faults = Vec::new();
    let mut told: BTreeSet<&str> = BTreeSet::new();
    for Dropped {
        front,
        board,
        copy,
        cut,
    } in &earlier.dropped
    {
        let known = job.fronts.iter().any(|other| other.name == *front);
        if !known && *cut && told.insert(front) {
            let (front, board) = (front.clone(), board.clone());
            faults.push(BegunFault::FrontGone { front, board });
        } else if known && marked(front) {
            by_board.entry((board, *copy)).or_default().insert(front);
        }
    }
    let of_board = by_board.into_iter().map(|((board, copy), fronts)| {
        let namesakes = job.boards.iter().filter(|other| other.id == board);
        let copies = namesakes.map(|board| board.copies.len()).sum();
        BegunFault::BoardGone {
            fronts: fronts.into_iter().map(str::to_owned).collect(),
            board: board.to_owned(),
            copy,
            copies,
        }
    });
    faults.extend(of_board);
    faults
}

/// Fronts the plan knows to be cut, whose marks a plan made anew elsewhere has put aside.
fn forgotten(job: &Job, earlier: &Earlier, done: &Done) -> Option<BegunFault> {
    let unmarked = |piece: &&SawnPiece| done.front(piece.blank.front) == FrontDone::default();
    let fronts: BTreeSet<&str> = earlier
        .sawn
        .standing()
        .filter(unmarked)
        .map(|piece| job.fronts[piece.blank.front].name.as_str())
        .collect();
    (done.anew && !fronts.is_empty()).then(|| BegunFault::Forgotten {
        fronts: fronts.into_iter().map(str::to_owned).collect(),
    })
}

/// A piece that reaches beyond its board as the board is written now.
fn off_board(job: &Job, piece: &SawnPiece) -> Option<BegunFault> {
    let board = &job.boards[piece.board];
    let ruler = job.settings.ruler();
    let fault = |size, now: Length, reached: Length, side| BegunFault::OffBoard {
        front: job.fronts[piece.blank.front].name.clone(),
        board: board.id.clone(),
        size,
        now: ruler.for_finished(now).show_with_unit(now),
        reached: ruler.for_finished(reached).show_with_unit(reached),
        side,
    };
    if piece.blank.to > board.length {
        return Some(fault("length", board.length, piece.blank.to, "hook end"));
    }
    let wide = piece.blank.high > board.width;
    wide.then(|| fault("width", board.width, piece.blank.high, "near edge"))
}

/// A piece that is cut and not made, smaller than its front is now.
fn too_small(job: &Job, piece: &SawnPiece) -> Option<BegunFault> {
    if piece.fate != Fate::Cut {
        return None;
    }
    let front = &job.fronts[piece.blank.front];
    let ruler = job.settings.ruler();
    let long = piece.blank.to - piece.blank.from;
    let wide = piece.blank.high - piece.blank.low;
    let fault = |way, cut: Length, needed: Length| BegunFault::TooSmall {
        front: front.name.clone(),
        way,
        cut: ruler.for_finished(cut).show_with_unit(cut),
        needed: ruler.for_finished(needed).show_with_unit(needed),
    };
    if long < front.along() {
        return Some(fault("along", long, front.along()));
    }
    let alone = piece.blank.staves <= 1;
    (alone && wide < front.across()).then(|| fault("across", wide, front.across()))
}

/// A piece cut from a board its front is not to come from.
fn elsewhere(job: &Job, piece: &SawnPiece) -> Option<BegunFault> {
    let (front, board) = (&job.fronts[piece.blank.front], &job.boards[piece.board]);
    let barred = front.not_boards.contains(&board.id);
    let asked = front.boards.is_empty() || front.boards.contains(&board.id);
    (piece.stands() && (barred || !asked)).then(|| BegunFault::Elsewhere {
        front: front.name.clone(),
        board: board.id.clone(),
        asked: match front.boards.as_slice() {
            [] => "another board".to_owned(),
            boards => boards.join(" or "),
        },
    })
}

/// A crosscut that went through a front's blank, or through a section that had left its board
/// before: both can't be.
fn through_or_beside(
    job: &Job,
    earlier: &Earlier,
    sawn: &Sawn,
    cut: &Crosscut,
) -> Option<BegunFault> {
    let kerf = job.settings.allowances.crosscut_kerf;
    let ruler = job.settings.ruler();
    let show = |length: Length| ruler.for_finished(length).show(length);
    let on = |piece: &&SawnPiece| (piece.board, piece.copy) == (cut.board, cut.copy);
    let within = |(from, to): (Length, Length)| cut.at < to && from < cut.at + kerf;
    let name = |piece: &SawnPiece| job.fronts[piece.blank.front].name.clone();
    let board = job.boards[cut.board].id.clone();
    let mut pieces = sawn.standing().filter(on);
    if let Some(piece) = pieces.find(|p| within((p.blank.from, p.blank.to))) {
        return Some(BegunFault::CutThrough {
            front: name(piece),
            board,
            at: show(cut.at),
            from: show(piece.blank.from),
            to: show(piece.blank.to),
        });
    }
    let new = !earlier.sawn.crosscuts.contains(cut);
    let mut before = earlier.sawn.standing().filter(on);
    let off = before.find(|piece| {
        let stands = sawn.standing().any(|now| now.blank == piece.blank);
        stands && within((piece.section.0 + kerf, piece.section.1 - kerf))
    });
    off.filter(|_| new).map(|piece| BegunFault::CutBeside {
        front: name(piece),
        board,
        at: show(cut.at),
        from: show(piece.section.0),
        to: show(piece.section.1),
    })
}
