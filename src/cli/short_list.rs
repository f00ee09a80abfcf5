//! `grainrow plan --short-list`

use std::path::Path;

use grainrow::commands::{self, Failure};
use grainrow::estimate::ShortList;
use grainrow::measure::Volume;

use super::exit::Exit;
use super::report::Report;
use super::tally::table;

/// Shows the boards on offer worth adding to the pile, the best first.
pub fn run(folder: &Path, count: usize, seed: u64, report: &Report) -> Result<Exit, Failure> {
    let list = commands::short_list(folder, count, seed)?;
    report.result_in(list.unit, &list, &shown(&list))?;
    Ok(Exit::Done)
}

fn shown(list: &ShortList) -> String {
    let owned = format!(
        "The boards owned make {} at a cost of {} (looks counted in).\n",
        counted(list.made, "front"),
        Volume::new(list.cost).show(list.unit)
    );
    if list.boards.is_empty() {
        return owned + "No single board on offer would better that.\n";
    }
    let mut table = table(
        &[
            "add",
            "more fronts",
            "fewer breaks",
            "saves",
            "price",
            "saved for 1 of money",
        ],
        1,
    );
    for board in &list.boards {
        table.add_row([
            board.board.clone(),
            board.more_made.to_string(),
            board.fewer_breaks.to_string(),
            match board.more_made {
                0 => format!("{:.2}", board.saves),
                _ => "-".to_owned(),
            },
            format!("{:.2}", board.price),
            match (board.more_made, board.saves_for_money) {
                (0, Some(saves)) => format!("{saves:.2}"),
                _ => "-".to_owned(),
            },
        ]);
    }
    format!(
        "{owned}\n{}\n\nEach line is one board added alone. Found by the fast planner: `plan --by money` weighs all\nboards on offer together and proves its choice.\n",
        table.trim_fmt()
    )
}

fn counted(count: usize, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}
