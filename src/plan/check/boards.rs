//! Every board of a plan is one of the pile's, cut once, and cut for something.

use std::collections::BTreeSet;

use super::view::board_name;
use super::{Rule, Violation};
use crate::job::Job;
use crate::plan::{BoardPlan, Plan};

/// Boards the job does not have, copies cut twice, and cuts for nothing.
pub(super) fn check(job: &Job, plan: &Plan) -> Vec<Violation> {
    let mut found = Vec::new();
    let mut seen = BTreeSet::new();
    for planned in &plan.boards {
        let Some(board) = job.boards.get(planned.board) else {
            found.push(violation(
                None,
                format!("the job has no board kind {}", planned.board),
            ));
            continue;
        };
        let name = board_name(&board.id, planned.copy);
        if !board.copies.contains(&planned.copy) {
            let text = format!("its copies are {:?}", board.copies);
            found.push(violation(Some(name.clone()), text));
        }
        if !seen.insert((board.id.as_str(), planned.copy)) {
            found.push(violation(Some(name.clone()), "cut twice".to_owned()));
        }
        if cuts_nothing(planned) {
            found.push(violation(Some(name), IDLE.to_owned()));
        }
    }
    found
}

const IDLE: &str = "it, or one of its sections or strips, yields no blank";

/// Whether a fault of these is only that something is cut for nothing.
pub(super) fn is_idle(violation: &Violation) -> bool {
    violation.text == IDLE
}

/// A board, section or strip without a blank would be cut for nothing.
fn cuts_nothing(planned: &BoardPlan) -> bool {
    let section_is_empty = |section: &crate::plan::Section| {
        section.strips.is_empty() || section.strips.iter().any(|strip| strip.blanks.is_empty())
    };
    planned.sections.is_empty() || planned.sections.iter().any(section_is_empty)
}

fn violation(board: Option<String>, text: String) -> Violation {
    Violation {
        rule: Rule::Boards,
        board,
        front: None,
        text,
    }
}
