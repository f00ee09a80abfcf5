//! Whether the numbers of a `plan.json` can be those of a plan at all. A file may have been changed
//! by hand or by a bad disk: what is no place on any board is told before anything is reckoned
//! with it.

use super::read::PlanFault;
use super::rows::{BlankRow, BoardRow, PlanRow, SectionRow, StripRow};
use crate::measure::Unit;

/// The longest length a job can have, in millimetres.
const LONGEST_MM: f64 = 100_000.0;
/// More staves than any front is glued from.
const MOST_STAVES: u32 = 1000;
/// What rounding to 1e-9 of a unit may leave between numbers that were equal.
const EQUAL: f64 = 1e-6;

/// Every number that can't be a length of a board, or a number of staves.
pub(super) fn unsound(row: &PlanRow) -> Vec<PlanFault> {
    let most = match row.unit {
        Unit::Inch => LONGEST_MM / 25.4,
        Unit::Mm => LONGEST_MM,
    };
    let mut faults = Vec::new();
    let mut see = |place: &str, numbers: &[f64]| {
        let wrong = numbers.iter().find(|number| number.abs() > most);
        faults.extend(wrong.map(|number| fault(place, &format!("a length of {number:e}"))));
    };
    for board in &row.boards {
        for kept in &board.kept {
            see(&on(board), &[kept.from, kept.to, kept.low, kept.high]);
        }
        for (section, strip, blank) in blanks(board) {
            let numbers = [section.from, section.to, strip.low, strip.high];
            see(&on(board), &numbers);
            see(&of(blank), &edges(blank));
        }
        for section in &board.sections {
            see(&on(board), &[section.from, section.to]);
        }
    }
    for piece in &row.sawn {
        see(&of(&piece.blank), &edges(&piece.blank));
        see(&of(&piece.blank), &[piece.section, piece.strip].concat());
    }
    for cut in &row.crosscuts {
        see(&format!("board {}", cut.board), &[cut.at]);
    }
    let sawn = row.sawn.iter().map(|piece| &piece.blank);
    let all = row.boards.iter().flat_map(blanks).map(|(.., blank)| blank);
    let staves = all.chain(sawn).filter(|blank| !has_staves(blank));
    let said = |blank: &BlankRow| {
        let what = format!("stave {} of {}", blank.stave, blank.staves);
        fault(&of(blank), &what)
    };
    faults.extend(staves.map(said));
    faults
}

/// Every section, strip and blank that does not lie within what it is cut from: no plan that
/// passed the checker is like that, however the job has changed since.
pub(super) fn apart(row: &PlanRow) -> Vec<PlanFault> {
    let mut faults = Vec::new();
    for board in &row.boards {
        for section in &board.sections {
            let what = format!("a section from {} to {}", section.from, section.to);
            faults.extend((section.from >= section.to).then(|| fault(&on(board), &what)));
        }
        for (section, strip, blank) in blanks(board) {
            let (along, across) = ((section.from, section.to), (strip.low, strip.high));
            faults.extend(outside(blank, along, across));
        }
    }
    for piece in &row.sawn {
        let ([from, to], [low, high]) = (piece.section, piece.strip);
        faults.extend(outside(&piece.blank, (from, to), (low, high)));
    }
    faults
}

fn outside(blank: &BlankRow, along: (f64, f64), across: (f64, f64)) -> Option<PlanFault> {
    let within = |(from, to): (f64, f64), (low, high): (f64, f64)| {
        from < to && from >= low - EQUAL && to <= high + EQUAL
    };
    let fits = within((blank.from, blank.to), along) && within((blank.low, blank.high), across);
    (!fits).then(|| {
        let [from, to, low, high] = edges(blank);
        let what = format!(
            "a blank from {from} to {to} along and {low} to {high} across, in a section from {} to \
             {} and a strip from {} to {}",
            along.0, along.1, across.0, across.1
        );
        fault(&of(blank), &what)
    })
}

fn has_staves(blank: &BlankRow) -> bool {
    (1..=MOST_STAVES).contains(&blank.staves) && (1..=blank.staves).contains(&blank.stave)
}

fn blanks(board: &BoardRow) -> impl Iterator<Item = (&SectionRow, &StripRow, &BlankRow)> {
    board.sections.iter().flat_map(|section| {
        section.strips.iter().flat_map(move |strip| {
            let blanks = strip.blanks.iter();
            blanks.map(move |blank| (section, strip, blank))
        })
    })
}

fn edges(blank: &BlankRow) -> [f64; 4] {
    [blank.from, blank.to, blank.low, blank.high]
}

fn on(board: &BoardRow) -> String {
    format!("board {}, copy {}", board.board, board.copy)
}

fn of(blank: &BlankRow) -> String {
    format!("front {}", blank.front)
}

fn fault(place: &str, what: &str) -> PlanFault {
    PlanFault::Unsound {
        place: place.to_owned(),
        what: what.to_owned(),
    }
}
