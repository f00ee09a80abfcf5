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
    /// Cut from a board that is gone from the files, or from a copy beyond its count.
    #[error("{}", board_gone(.fronts, .board, *.copy, *.copies))]
    BoardGone {
        /// The fronts.
        fronts: Vec<String>,
        /// The board.
        board: String,
        /// Which copy of it.
        copy: u32,
        /// How many there are now.
        copies: usize,
    },
    /// A front that was cut and is gone from the files: its wood would count as whole again.
    #[error(
        "front {front} was cut from board {board}, and fronts.csv has it no longer: put its row back (as it was named), or its wood would be taken to be whole"
    )]
    FrontGone {
        /// The front.
        front: String,
        /// The board.
        board: String,
    },
    /// Marks put aside by planning anew, that this plan still goes by.
    #[error(
        "{} cut when this plan was made, but done.csv puts those marks aside (its line `anew`): remove that line to go on with this plan, or plan anew",
        were(.fronts)
    )]
    Forgotten {
        /// The fronts.
        fronts: Vec<String>,
    },
    /// Cut where the board is not, as it is written now.
    #[error(
        "front {front} was cut from board {board} up to {reached} from the {side}, but boards.csv now has a {size} of {now}: write the {size} the board had before it was cut; what is cut off it is known from done.csv"
    )]
    OffBoard {
        /// The front.
        front: String,
        /// The board.
        board: String,
        /// `length` or `width`.
        size: &'static str,
        /// That of the board now.
        now: String,
        /// Where the piece ends.
        reached: String,
        /// Where that is measured from.
        side: &'static str,
    },
    /// Cut smaller than the front is now.
    #[error(
        "front {front} is cut {cut} {way} the grain, and is to be {needed} now: mark it spoiled to have it made anew, or give it back its size"
    )]
    TooSmall {
        /// The front.
        front: String,
        /// `along` or `across`.
        way: &'static str,
        /// What is there.
        cut: String,
        /// What it takes now.
        needed: String,
    },
    /// Cut from a board that the job, or a wish, now rules out.
    #[error(
        "front {front} is cut from {board}, and is to come from {asked} now (`board`, `not_board` or a wish): take that out, or mark it spoiled to have it made anew"
    )]
    Elsewhere {
        /// The front.
        front: String,
        /// The board it is cut from.
        board: String,
        /// Those it is asked to come from.
        asked: String,
    },
    /// A crosscut through a blank that is marked cut or made.
    #[error(
        "board {board} is marked as cut through at {at}, in the midst of front {front} ({from} to {to} from the hook end), which is marked cut: mark {front} spoiled if the saw went through it, or correct the crosscut in done.csv"
    )]
    CutThrough {
        /// The front.
        front: String,
        /// The board.
        board: String,
        /// Where it was cut through.
        at: String,
        /// Where the blank begins.
        from: String,
        /// Where it ends.
        to: String,
    },
    /// A crosscut through a section that had left the board before.
    #[error(
        "board {board} is marked as cut through at {at}, but {from} to {to} of it had left the board before, when front {front} was cut: correct the crosscut in done.csv; if one strip was cut, mark the fronts lost by it spoiled"
    )]
    CutBeside {
        /// A front that was cut from that section.
        front: String,
        /// The board.
        board: String,
        /// Where it was cut through.
        at: String,
        /// Where the section began.
        from: String,
        /// Where it ended.
        to: String,
    },
}

fn board_gone(fronts: &[String], board: &str, copy: u32, copies: usize) -> String {
    let were = were(fronts);
    match copies {
        0 => format!(
            "{were} cut from board {board}, and boards.csv has no such board: put its row back, \
             or give it back that name"
        ),
        _ => format!(
            "{were} cut from number {copy} of board {board}, and boards.csv has only {copies} of \
             it: raise its `count` to {copy} or more"
        ),
    }
}

fn were(fronts: &[String]) -> String {
    match fronts {
        [front] => format!("front {front} was"),
        _ => format!("fronts {} were", fronts.join(", ")),
    }
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
            Err(fault) => faults.push(*fault),
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
) -> Result<Vec<SawnPiece>, Box<BegunFault>> {
    let marked = done.front(front);
    let name = || job.fronts[front].name.clone();
    let mut pieces = spoiled_before(known, front, marked.spoiled);
    let told = blanks_of(&pieces);
    if marked.spoiled > told + 1 {
        return Err(Box::new(BegunFault::SpoiledTooOften {
            front: name(),
            marked: marked.spoiled,
            planned: told + 1,
        }));
    }
    let newly_spoiled = marked.spoiled == told + 1;
    if let (true, Some(finished)) = (newly_spoiled, marked.now) {
        return Err(Box::new(BegunFault::NoNewPlace {
            front: name(),
            state: word(fate(finished)),
        }));
    }
    let now = if newly_spoiled {
        Some(Fate::Spoiled)
    } else {
        marked.now.map(fate)
    };
    if let Some(fate) = now {
        let present = pieces_of(last, front, fate);
        if present.is_empty() {
            return Err(Box::new(BegunFault::NotPlanned {
                front: name(),
                state: word(fate),
            }));
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
