//! Whose numbers stand on the drawings instead of names.

use crate::draw::{Named, Renamed};
use crate::job::Job;
use crate::packet::document::{Block, Column, Part, Table};
use crate::packet::phrase::Phrase;

/// A warning, and a table of the names that the sheets have no letters for.
pub fn told(part: &mut Part, job: &Job, renamed: &[Renamed]) {
    if renamed.is_empty() {
        return;
    }
    part.blocks.push(Block::Caution {
        title: "Numbers for names".to_owned(),
        words: "The type on these sheets has no letters for the names below. Chalk and read the \
                number instead; boards.csv and fronts.csv keep the names."
            .into(),
    });
    part.table(Table {
        caption: "Whose the numbers are".to_owned(),
        columns: ["number", "is", "named", "which is"]
            .map(Column::words)
            .to_vec(),
        rows: renamed.iter().map(|one| row(job, one)).collect(),
        ..Table::default()
    });
}

fn row(job: &Job, one: &Renamed) -> Vec<Phrase> {
    let (what, index) = (one.what.word(), one.index);
    let size = match one.what {
        Named::Board => {
            let board = &job.boards[index];
            Phrase::default().sizes(&[board.length, board.width, board.thickness])
        }
        Named::Front => {
            let front = &job.fronts[index];
            Phrase::default().finished_sizes(&[front.width, front.height])
        }
        Named::Run => {
            let fronts = &job.runs[index].fronts;
            let names: Vec<&str> = fronts
                .iter()
                .map(|&f| job.fronts[f].name.as_str())
                .collect();
            Phrase::from(names.join(", "))
        }
    };
    let place = match one.what {
        Named::Run => "the run of ".to_owned(),
        _ => format!("{what} {} of the file, ", index + 1),
    };
    vec![
        one.number.as_str().into(),
        what.into(),
        one.name.as_str().into(),
        Phrase::from(place).and(size),
    ]
}
