//! What a maker should know about a job that can be used.

use super::fronts::FrontRow;
use super::trouble::NoBoard;
use crate::job::fault::{Fault, Faults};
use crate::job::{Board, Front, Job};
use crate::measure::Length;

/// Adds every finding as a warning. `row_of` holds each front's row by index.
pub(super) fn collect(job: &Job, rows: &[FrontRow<'_>], row_of: &[usize], faults: &mut Faults) {
    if job.boards.is_empty() {
        return;
    }
    let mut told = None;
    for (front, &row) in job.fronts.iter().zip(row_of) {
        // Copies of a row share its fate: one warning says it.
        if told == Some(row) {
            continue;
        }
        if let Some(trouble) = why_no_board(job, front) {
            told = Some(row);
            let column = trouble.column(front);
            faults.push(Fault::new(rows[row].line.place(column), trouble));
        }
    }
}

/// Why no board of the pile can make a front, however it is cut and glued; nothing when its
/// sizes alone leave a chance. Warp and defects are left to planning, so that what is said
/// here is certain.
fn why_no_board(job: &Job, front: &Front) -> Option<NoBoard> {
    let may = |board: &&Board| front.may_come_from(board);
    let boards: Vec<&Board> = job.boards.iter().filter(may).collect();
    if boards.is_empty() {
        return Some(NoBoard::NoneLeft);
    }
    let needs = Needs::of(job, front);
    let most = |left: fn(&Job, &Board) -> Length| {
        boards
            .iter()
            .map(|board| left(job, board))
            .max()
            .unwrap_or_default()
    };
    let show = |length| job.settings.ruler().show_with_unit(length);
    let lacking = |need: Length, most: Length| (need > most).then(|| (show(need), show(most)));
    let whose = front.only_board().map(str::to_owned);
    if let Some(most) = job
        .settings
        .machines
        .widest
        .filter(|&most| needs.width > most)
    {
        return Some(NoBoard::Machines {
            need: show(needs.width),
            most: show(most),
        });
    }
    if let Some((need, most)) = lacking(needs.length, most(clear_length)) {
        return Some(NoBoard::TooLong { need, most, whose });
    }
    if let Some((need, most)) = lacking(needs.width, most(clear_width)) {
        return Some(NoBoard::TooWide { need, most, whose });
    }
    if let Some((need, most)) = lacking(needs.thickness, most(|_, board| board.thickness)) {
        return Some(NoBoard::TooThick { need, most, whose });
    }
    let fits = |board: &&Board| {
        clear_length(job, board) >= needs.length
            && clear_width(job, board) >= needs.width
            && board.thickness >= needs.thickness
    };
    if boards.iter().any(fits) {
        return None;
    }
    Some(NoBoard::NotTogether {
        length: show(needs.length),
        width: show(needs.width),
        thickness: show(needs.thickness),
    })
}

/// The least a board must have between its trims for one blank, or one stave, of a front.
struct Needs {
    length: Length,
    width: Length,
    thickness: Length,
}

impl Needs {
    fn of(job: &Job, front: &Front) -> Needs {
        let allowances = &job.settings.allowances;
        let whole = front.across() + allowances.rough_width;
        Needs {
            length: front.along() + allowances.rough_length,
            width: if front.glue {
                whole.min(job.settings.glue.least_stave)
            } else {
                whole
            },
            thickness: front.thickness + allowances.plane * 2,
        }
    }
}

fn clear_length(job: &Job, board: &Board) -> Length {
    board.clear_length(&job.settings.allowances)
}

fn clear_width(job: &Job, board: &Board) -> Length {
    (board.width - job.settings.allowances.edge_trim * 2).at_least_zero()
}
