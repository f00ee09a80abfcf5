//! How a board compares with another, told as a maker looks at it: log first, then tone, then cut.

use crate::job::Board;

/// A board with what can be seen of it.
pub(super) fn look(board: &Board) -> String {
    let log = board
        .log
        .as_ref()
        .map(|log| format!(", log {log}"))
        .unwrap_or_default();
    let cut = board
        .cut
        .map(|cut| format!(", {}", cut.word()))
        .unwrap_or_default();
    format!("{}{log}, tone {}{cut}", board.id, board.tone.value())
}

/// How a replacement's board compares with its neighbour's: log first, then tone, then cut.
pub(super) fn compared(theirs: &Board, own: &Board) -> String {
    if theirs.id == own.id {
        return "the same board".to_owned();
    }
    let log = match (&theirs.log, &own.log) {
        (Some(a), Some(b)) if a == b => "same log".to_owned(),
        (Some(_), Some(b)) => format!("another log ({b})"),
        _ => "log not known".to_owned(),
    };
    let steps = (theirs.tone.value() - own.tone.value()).abs();
    let tone = match steps {
        0.0 => "same tone".to_owned(),
        1.0 => "1 step of tone apart".to_owned(),
        steps => format!("{steps} steps of tone apart"),
    };
    let cut = match (theirs.cut, own.cut) {
        (Some(a), Some(b)) if a == b => "same cut".to_owned(),
        (Some(_), Some(b)) => format!("another cut ({})", b.word()),
        _ => "cut not known".to_owned(),
    };
    format!("{}: {log}, {tone}, {cut}", own.id)
}
