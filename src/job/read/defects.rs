//! `defects.csv`: what is wrong with the boards, and where.

use super::boards::{BoardRow, MOST_COPIES};
use super::trouble::DefectTrouble;
use crate::job::fault::{Fault, Faults, nearest};
use crate::job::table::{Columns, Line, Table};
use crate::job::{Board, Defect};
use crate::measure::Ruler;

/// The columns of `defects.csv`.
pub(in crate::job) const COLUMNS: Columns = Columns {
    required: &["board", "kind", "from", "to", "low", "high"],
    optional: &["side", "copy", "notes"],
};

/// Reads all rows and puts each defect on its board.
pub(super) fn read(table: &Table, rows: &mut [BoardRow<'_>], ruler: Ruler, faults: &mut Faults) {
    for line in table.lines() {
        let defect = read_defect(line, faults);
        let row = find_board(line, rows, faults);
        let copy = line.get("copy", faults, |cell| cell.whole(1..=MOST_COPIES));
        let (Some(defect), Some(row)) = (defect, row) else {
            continue;
        };
        check_order(line, &defect, faults);
        if let Some(board) = &row.board {
            check_on_board(line, &defect, board, ruler, faults);
        }
        put(line, defect, row, copy, faults);
    }
}

fn read_defect(line: Line<'_>, faults: &mut Faults) -> Option<Defect> {
    let kind = line.need("kind", faults, |cell| cell.choice());
    let mut edge = |column| line.need(column, faults, |cell| cell.distance());
    let (from, to, low, high) = (edge("from"), edge("to"), edge("low"), edge("high"));
    let side = line.get("side", faults, |cell| cell.choice());
    Some(Defect {
        kind: kind?,
        from: from?,
        to: to?,
        low: low?,
        high: high?,
        side: side.unwrap_or_default(),
        notes: line.text("notes"),
    })
}

fn find_board<'r, 't>(
    line: Line<'_>,
    rows: &'r mut [BoardRow<'t>],
    faults: &mut Faults,
) -> Option<&'r mut BoardRow<'t>> {
    let id = line.need("board", faults, |cell| cell.name())?;
    let position = rows.iter().position(|row| row.id.as_deref() == Some(&id));
    if position.is_none() {
        let nearest = nearest(&id, rows.iter().filter_map(|row| row.id.as_deref()));
        faults.push(Fault::new(
            line.place("board"),
            DefectTrouble::UnknownBoard { nearest },
        ));
    }
    rows.get_mut(position?)
}

fn check_order(line: Line<'_>, defect: &Defect, faults: &mut Faults) {
    for (start, end, column, start_column) in [
        (defect.from, defect.to, "to", "from"),
        (defect.low, defect.high, "high", "low"),
    ] {
        if end < start {
            let trouble = DefectTrouble::Backwards {
                start: start_column,
            };
            faults.push(Fault::new(line.place(column), trouble));
        }
    }
}

fn check_on_board(
    line: Line<'_>,
    defect: &Defect,
    board: &Board,
    ruler: Ruler,
    faults: &mut Faults,
) {
    let along = [("from", defect.from), ("to", defect.to)];
    let across = [("low", defect.low), ("high", defect.high)];
    for (edges, most, dimension) in [(along, board.length, "long"), (across, board.width, "wide")] {
        // A defect that starts off the board ends off it too: one fault says it.
        if let Some((column, _)) = edges.into_iter().find(|(_, at)| *at > most) {
            let trouble = DefectTrouble::OffBoard {
                board: board.id.clone(),
                size: ruler.show_with_unit(most),
                dimension,
            };
            faults.push(Fault::new(line.place(column), trouble));
        }
    }
}

fn put(
    line: Line<'_>,
    defect: Defect,
    row: &mut BoardRow<'_>,
    copy: Option<i64>,
    faults: &mut Faults,
) {
    let Some(copy) = copy.and_then(|copy| u32::try_from(copy).ok()) else {
        row.on_all.push(defect);
        return;
    };
    match row.count {
        Some(count) if copy > count => {
            faults.push(Fault::new(
                line.place("copy"),
                DefectTrouble::UnknownCopy { count },
            ));
        }
        _ => row.on_copy.entry(copy).or_default().push(defect),
    }
}
