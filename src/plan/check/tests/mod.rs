//! Good plans pass, and every way to spoil one is caught by the rule it breaks.

mod begun;
mod boards;
mod cuts;
mod defects;
mod figures;
mod fronts;
mod kept;
mod moves;
mod plain;
mod sizes;
mod stretches;
mod thickness;

use super::{Rule, check};
use crate::job::{Between, Job};
use crate::measure::{Length, Volume};
use crate::plan::fixture::{blanks, cut, inches, job, plan, retotal};
use crate::plan::{Blank, End, Face, Limits, Plan};

/// The rules a plan breaks, each once.
fn broken(job: &Job, plan: &Plan) -> Vec<Rule> {
    let mut rules: Vec<Rule> = match check(job, plan, false, &Limits::default()) {
        Ok(()) => Vec::new(),
        Err(found) => found.into_iter().map(|violation| violation.rule).collect(),
    };
    rules.dedup();
    rules
}

/// What a change to the good plan breaks, totals brought up to date after it.
fn spoiled(change: impl FnOnce(&mut Plan)) -> Vec<Rule> {
    changed(|_, plan| change(plan))
}

fn changed(change: impl FnOnce(&mut Job, &mut Plan)) -> Vec<Rule> {
    let (mut job, mut plan) = (job(), plan());
    change(&mut job, &mut plan);
    retotal(&mut plan, &job);
    broken(&job, &plan)
}

fn blank(plan: &mut Plan, board: usize, index: usize) -> &mut Blank {
    &mut plan.boards[board].sections[0].strips[0].blanks[index]
}

const GOOD: Vec<Rule> = Vec::new();

#[test]
fn a_good_plan_passes() {
    assert_eq!(check(&job(), &plan(), false, &Limits::default()), Ok(()));
}

#[test]
fn a_violation_names_board_front_and_numbers() {
    let mut plan = plan();
    blank(&mut plan, 0, 1).to = inches(44.0);
    let found = check(&job(), &plan, false, &Limits::default()).unwrap_err();
    assert_eq!(
        found[0].to_string(),
        "sizes: board A copy 1, front D2: blank 20.875 long, 21 needed"
    );
}
