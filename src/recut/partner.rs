//! What a replacement should look like.

use crate::job::{Board, Job};
use crate::plan::Sawn;

/// The board of the nearest front of the run that is cut or made.
pub(super) fn partner<'j>(job: &'j Job, sawn: &Sawn, front: usize) -> Option<&'j Board> {
    let (run, place) = job.place_of(front);
    let fronts = &job.runs[run].fronts;
    let distance = |at: usize| at.abs_diff(place);
    let mut nearest: Vec<usize> = (0..fronts.len()).filter(|&at| at != place).collect();
    nearest.sort_by_key(|&at| (distance(at), at));
    let piece = nearest.into_iter().find_map(|at| {
        sawn.standing()
            .find(|piece| piece.blank.front == fronts[at])
    })?;
    Some(&job.boards[piece.board])
}

/// In how many of log and cut a board is known to differ from another.
pub(super) fn mismatches(a: &Board, b: &Board) -> usize {
    let differ = |same: Option<bool>| usize::from(same == Some(false));
    let log = a.log.as_ref().zip(b.log.as_ref()).map(|(a, b)| a == b);
    let cut = a.cut.zip(b.cut).map(|(a, b)| a == b);
    differ(log) + differ(cut)
}
