//! `done.csv`: what was made, cut or spoiled, and which boards were cut through.
//!
//! A row `anew` puts aside all rows above it: the plan made then knows nothing of them.
//!
//! The rows are read in order. A front has one `spoiled` row for each blank lost, and after the
//! last of them at most one that says how far its present blank has come.

use super::trouble::DoneTrouble;
use crate::job::choice::Choice;
use crate::job::fault::{Fault, Faults, nearest};
use crate::job::table::{Columns, Line, Table};
use crate::job::{Crosscut, Done, Finished, FrontDone, Job};

/// The columns of `done.csv`.
pub(in crate::job) const COLUMNS: Columns = Columns {
    required: &["front", "state"],
    optional: &["notes", "board", "copy", "at"],
};

/// What a row says happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    Made,
    Cut,
    Spoiled,
    Crosscut,
    Anew,
}

/// The word of a row that puts aside those above it.
pub(in crate::job) const ANEW: &str = "anew";

impl Choice for State {
    const WORDS: &'static [(&'static str, State)] = &[
        ("made", State::Made),
        ("cut", State::Cut),
        ("spoiled", State::Spoiled),
        ("crosscut", State::Crosscut),
        (ANEW, State::Anew),
    ];
}

/// Reads all rows for `job`; faults are added to `faults`.
pub(super) fn read(table: &Table, job: &Job, faults: &mut Faults) -> Done {
    let anew = |line: Line<'_>| line.text("state").eq_ignore_ascii_case(ANEW);
    let last = table.lines().enumerate().filter(|(_, line)| anew(*line));
    let start = last.last().map(|(index, _)| index);
    let mut done = Done {
        fronts: vec![FrontDone::default(); job.fronts.len()],
        crosscuts: Vec::new(),
        anew: start.is_some(),
    };
    for line in table.lines().skip(start.unwrap_or(0)) {
        match line.need("state", faults, |cell| cell.choice::<State>()) {
            Some(State::Anew) => {}
            Some(State::Crosscut) => done.crosscuts.extend(crosscut(line, job, faults)),
            Some(state) => {
                if let Some(front) = front(line, job, faults) {
                    tell(line, state, &mut done.fronts[front], faults);
                }
            }
            None => {}
        }
    }
    done
}

fn tell(line: Line<'_>, state: State, front: &mut FrontDone, faults: &mut Faults) {
    let finished = match state {
        State::Made => Finished::Made,
        State::Cut => Finished::Cut,
        State::Spoiled | State::Crosscut | State::Anew => {
            front.spoiled += 1;
            front.now = None;
            return;
        }
    };
    // A blank is cut, then made; any other second row is a slip.
    match front.now {
        Some(Finished::Cut) if finished == Finished::Made => {}
        Some(_) => faults.push(Fault::new(line.place("state"), DoneTrouble::Twice)),
        None => {}
    }
    front.now = Some(finished);
}

fn front(line: Line<'_>, job: &Job, faults: &mut Faults) -> Option<usize> {
    let name = line.need("front", faults, |cell| cell.name())?;
    let found = job.fronts.iter().position(|front| front.name == name);
    if found.is_none() {
        let nearest = nearest(&name, job.fronts.iter().map(|front| front.name.as_str()));
        let trouble = DoneTrouble::UnknownFront { nearest };
        faults.push(Fault::new(line.place("front"), trouble));
    }
    found
}

fn crosscut(line: Line<'_>, job: &Job, faults: &mut Faults) -> Option<Crosscut> {
    let id = line.need("board", faults, |cell| cell.name());
    let at = line.need("at", faults, |cell| cell.size());
    let copy = line.get("copy", faults, |cell| cell.whole(1..=10_000));
    let (id, at, copy) = (id?, at?, u32::try_from(copy.unwrap_or(1)).ok()?);
    let named = |board: &&crate::job::Board| board.id == id;
    if !job.boards.iter().any(|board| board.id == id) {
        let nearest = nearest(&id, job.boards.iter().map(|board| board.id.as_str()));
        faults.push(Fault::new(
            line.place("board"),
            DoneTrouble::UnknownBoard { nearest },
        ));
        return None;
    }
    let copies: usize = job
        .boards
        .iter()
        .filter(named)
        .map(|b| b.copies.len())
        .sum();
    if copies > 1 && line.text("copy").is_empty() {
        let trouble = DoneTrouble::WhichCopy { board: id, copies };
        faults.push(Fault::new(line.place("copy"), trouble));
        return None;
    }
    let holds = |board: &crate::job::Board| board.id == id && board.copies.contains(&copy);
    let Some(board) = job.boards.iter().position(holds) else {
        faults.push(Fault::new(
            line.place("copy"),
            DoneTrouble::UnknownCopy { copies },
        ));
        return None;
    };
    let length = job.boards[board].length;
    if at >= length {
        let long = job.settings.ruler().show_with_unit(length);
        faults.push(Fault::new(
            line.place("at"),
            DoneTrouble::OffBoard { board: id, long },
        ));
        return None;
    }
    Some(Crosscut { board, copy, at })
}
