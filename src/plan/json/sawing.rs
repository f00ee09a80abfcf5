//! How the wood of each front is sawn, as a plan tells it.

use super::read::parsed;
use crate::fit::Sawing;
use crate::job::Job;
use crate::plan::{Plan, placed};

/// The boards each front is cut from, and nothing of how its size was reckoned.
pub fn sawing(job: &Job, plan: &Plan) -> Sawing {
    let mut boards = vec![Vec::new(); job.fronts.len()];
    for (board, _, _, blank) in placed(plan) {
        boards[blank.front].push(board.board);
    }
    Sawing {
        boards,
        reckoned: Vec::new(),
    }
}

/// The same from the text of a `plan.json`, with what each front's size was reckoned with. A text
/// that can't be read tells nothing.
pub fn sawing_from_json(job: &Job, text: &str) -> Sawing {
    let Ok(row) = parsed(text) else {
        return Sawing::default();
    };
    let plan = super::earlier_from_json(job, text).map(|earlier| earlier.plan);
    let reckoned = job.fronts.iter().map(|front| {
        let fitted = row.fitted.iter().find(|f| f.front == front.name);
        fitted.map(|fitted| fitted.cut)
    });
    Sawing {
        reckoned: reckoned.collect(),
        ..sawing(job, &plan.unwrap_or_default())
    }
}
