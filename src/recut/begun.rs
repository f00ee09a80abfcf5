//! What the saw has done, from the last plan and what is marked since.

use thiserror::Error;

use crate::job::{Done, Finished, Job};
use crate::plan::{Fate, Plan, Sawn, SawnPiece, placed};

/// Why what is marked as done does not go with the last plan.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum BegunFault {
    /// Cut or made, but the plan does not make it.
    #[error(
        "front {front} is marked {state} in done.csv, but the last plan does not make it: where its wood came from is not known"
    )]
    NotPlanned {
        /// The front.
        front: String,
        /// What it is marked as.
        state: &'static str,
    },
    /// Spoiled more often than it was planned.
    #[error(
        "front {front} is marked spoiled {marked} times in done.csv, but only {planned} blanks were planned for it: recut after each one"
    )]
    SpoiledTooOften {
        /// The front.
        front: String,
        /// Spoiled rows.
        marked: u32,
        /// Blanks it had.
        planned: u32,
    },
    /// Spoiled and then cut without a new place.
    #[error(
        "front {front} is marked {state} after it was spoiled, but no recut gave it a new place: recut first, or remove one of its lines in done.csv"
    )]
    NoNewPlace {
        /// The front.
        front: String,
        /// What it is marked as.
        state: &'static str,
    },
}

/// What the saw has done: what it had done when the last plan was made, and what is marked since.
///
/// # Errors
/// Every mark that does not go with the last plan.
pub fn begun(job: &Job, last: &Plan, known: &Sawn, done: &Done) -> Result<Sawn, Vec<BegunFault>> {
    let mut sawn = Sawn {
        pieces: Vec::new(),
        crosscuts: done.crosscuts.clone(),
        stays: Vec::new(),
    };
    let mut faults = Vec::new();
    for front in 0..job.fronts.len() {
        match of_front(job, last, known, done, front) {
            Ok(pieces) => sawn.pieces.extend(pieces),
            Err(fault) => faults.push(fault),
        }
    }
    if faults.is_empty() {
        Ok(sawn)
    } else {
        Err(faults)
    }
}

fn of_front(
    job: &Job,
    last: &Plan,
    known: &Sawn,
    done: &Done,
    front: usize,
) -> Result<Vec<SawnPiece>, BegunFault> {
    let marked = done.front(front);
    let name = || job.fronts[front].name.clone();
    let mut pieces = spoiled_before(known, front, marked.spoiled);
    let told = blanks_of(&pieces);
    if marked.spoiled > told + 1 {
        return Err(BegunFault::SpoiledTooOften {
            front: name(),
            marked: marked.spoiled,
            planned: told + 1,
        });
    }
    let newly_spoiled = marked.spoiled == told + 1;
    if let (true, Some(finished)) = (newly_spoiled, marked.now) {
        return Err(BegunFault::NoNewPlace {
            front: name(),
            state: word(fate(finished)),
        });
    }
    let now = if newly_spoiled {
        Some(Fate::Spoiled)
    } else {
        marked.now.map(fate)
    };
    if let Some(fate) = now {
        let present = pieces_of(last, front, fate);
        if present.is_empty() {
            return Err(BegunFault::NotPlanned {
                front: name(),
                state: word(fate),
            });
        }
        pieces.extend(present);
    }
    Ok(pieces)
}

/// The blanks of a front that earlier plans already knew to be lost: as many as are still marked.
fn spoiled_before(known: &Sawn, front: usize, marked: u32) -> Vec<SawnPiece> {
    let mut lost: Vec<SawnPiece> = Vec::new();
    let of_front = |p: &&SawnPiece| p.blank.front == front && !p.stands();
    for piece in known.pieces.iter().filter(of_front) {
        if blanks_of(&lost) == marked && piece.blank.stave == 1 {
            break;
        }
        lost.push(piece.clone());
    }
    lost
}

/// How many blanks these staves make, each front's counted by its first.
fn blanks_of(pieces: &[SawnPiece]) -> u32 {
    pieces.iter().filter(|piece| piece.blank.stave == 1).count() as u32
}

/// The blanks a plan has for a front, by stave.
fn pieces_of(last: &Plan, front: usize, fate: Fate) -> Vec<SawnPiece> {
    let mut pieces: Vec<SawnPiece> = placed(last)
        .filter(|(_, _, _, blank)| blank.front == front)
        .map(|(board, section, strip, blank)| SawnPiece {
            board: board.board,
            copy: board.copy,
            section: (section.from, section.to),
            strip: (strip.low, strip.high),
            blank: blank.clone(),
            fate,
        })
        .collect();
    pieces.sort_by_key(|piece| piece.blank.stave);
    pieces
}

fn fate(finished: Finished) -> Fate {
    match finished {
        Finished::Cut => Fate::Cut,
        Finished::Made => Fate::Made,
    }
}

fn word(fate: Fate) -> &'static str {
    match fate {
        Fate::Cut => "cut",
        Fate::Made => "made",
        Fate::Spoiled => "spoiled",
    }
}
