//! Which of the chalk still holds.

use std::collections::BTreeSet;

use crate::job::Job;
use crate::layout::Limits;
use crate::plan::{BoardPlan, NotMade, Plan, Sawn, Violation, placed, totals};

use super::Last;
use super::kept::kept;
use super::numbers::number_stretches;
use super::rules::{self, not_plain};

/// Fronts by index.
pub(super) type Fronts = BTreeSet<usize>;

/// The fronts of the last plan that are neither cut nor lost: their chalk could stay.
pub(super) fn chalked(last: &Plan, sawn: &Sawn) -> Fronts {
    let touched: Fronts = sawn.pieces.iter().map(|piece| piece.blank.front).collect();
    let known = known_blanks(last, sawn);
    placed(last)
        .map(|(_, _, _, blank)| blank.front)
        .filter(|front| !touched.contains(front) || known.contains(front))
        .collect()
}

/// Fronts whose lost blanks are all from before the last plan: it gave them new ones.
fn known_blanks(last: &Plan, sawn: &Sawn) -> Fronts {
    let lost_now = |front: usize| {
        placed(last).filter(|(.., blank)| blank.front == front).any(
            |(board, section, strip, blank)| {
                sawn.pieces.iter().any(|p| {
                    p.blank == *blank
                        && (p.board, p.copy) == (board.board, board.copy)
                        && p.section == (section.from, section.to)
                        && p.strip == (strip.low, strip.high)
                })
            },
        )
    };
    let fronts: Fronts = sawn.pieces.iter().map(|piece| piece.blank.front).collect();
    fronts
        .into_iter()
        .filter(|&front| !lost_now(front))
        .collect()
}

/// All that lies on the boards when only the chalk of `stays` stays beside what is cut.
pub(super) fn occupied(last: &Plan, sawn: &Sawn, stays: &Fronts) -> Vec<BoardPlan> {
    let mut skeleton = sawn.skeleton();
    for (board, section, strip, blank) in placed(last) {
        if stays.contains(&blank.front) {
            let (along, across) = ((section.from, section.to), (strip.low, strip.high));
            skeleton.add((board.board, board.copy), along, across, Some(blank));
        }
    }
    skeleton.boards()
}

/// The same, and the boards that are only cut through: all that is spent but for what is kept of it.
pub(super) fn in_use(last: &Plan, sawn: &Sawn, stays: &Fronts) -> Vec<BoardPlan> {
    let mut boards = occupied(last, sawn, stays);
    for (board, copy) in sawn.cut_into() {
        if !boards.iter().any(|b| (b.board, b.copy) == (board, copy)) {
            boards.push(BoardPlan {
                board,
                copy,
                ..BoardPlan::default()
            });
        }
    }
    boards.sort_by_key(|b| (b.board, b.copy));
    boards
}

/// Boards as they stand, made a plan: the rest of the fronts not made.
pub(super) fn as_plan(job: &Job, last: &Plan, sawn: &Sawn, stays: &Fronts, money: bool) -> Plan {
    let mut plan = Plan {
        boards: in_use(last, sawn, stays),
        ..Plan::default()
    };
    finish(job, &mut plan, last, sawn, stays, money);
    plan
}

/// Kept pieces, stretches, fronts not made and totals of a plan whose blanks are in place.
pub(super) fn finish(
    job: &Job,
    plan: &mut Plan,
    last: &Plan,
    sawn: &Sawn,
    stays: &Fronts,
    money: bool,
) {
    for board in &mut plan.boards {
        board.kept = kept(job, board, sawn);
    }
    number_stretches(job, plan, last, sawn, stays);
    let made: Fronts = placed(plan).map(|(_, _, _, blank)| blank.front).collect();
    plan.not_made
        .retain(|missing| !made.contains(&missing.front));
    for front in 0..job.fronts.len() {
        let known = plan.not_made.iter().any(|missing| missing.front == front);
        if !made.contains(&front) && !known {
            plan.not_made.push(NotMade {
                front,
                why: String::new(),
                buy: String::new(),
            });
        }
    }
    plan.not_made.sort_by_key(|missing| missing.front);
    plan.totals = totals(job, plan, money);
}

/// The chalk that still keeps every rule, and for the rest what is wrong with it. A plan written when
/// cuts did not have to be plain keeps only chalk that is.
pub(super) fn holding(job: &Job, last: &Last, sawn: &Sawn) -> (Fronts, Vec<(usize, Violation)>) {
    let mut stays = chalked(last.plan, sawn);
    let mut wrong: Vec<(usize, Violation)> = Vec::new();
    let standing = |stays: &Fronts| as_plan(job, last.plan, sawn, stays, last.by_money());
    if !last.plain {
        let plan = standing(&stays);
        let found = not_plain(job, &plan, sawn, last.by_money());
        release(job, &plan, found, &mut stays, &mut wrong);
    }
    loop {
        let plan = standing(&stays);
        let limits = Limits::default();
        let found = rules::wrong(job, &plan, (sawn, &stays), last.by_money(), &limits);
        if !release(job, &plan, found, &mut stays, &mut wrong) {
            return (stays, wrong);
        }
    }
}

/// Lets the chalk go that these faults concern, keeping its first fault; whether any was.
fn release(
    job: &Job,
    plan: &Plan,
    found: Vec<Violation>,
    stays: &mut Fronts,
    wrong: &mut Vec<(usize, Violation)>,
) -> bool {
    let mut released = Vec::new();
    for violation in found {
        let concerned = concerned(job, plan, stays, &violation);
        released.extend(
            concerned
                .into_iter()
                .map(|front| (front, violation.clone())),
        );
    }
    let any = !released.is_empty();
    for (front, violation) in released {
        if stays.remove(&front) {
            wrong.push((front, violation));
        }
    }
    any
}

/// The fronts whose chalk must go for a rule to be kept: the one it names, or all on its board.
fn concerned(job: &Job, plan: &Plan, stays: &Fronts, violation: &Violation) -> Vec<usize> {
    if let Some(name) = &violation.front {
        let named = |&front: &usize| job.fronts[front].name == *name;
        return stays.iter().copied().filter(named).collect();
    }
    let Some(board) = &violation.board else {
        return Vec::new();
    };
    let on = |b: &BoardPlan| format!("{} copy {}", job.boards[b.board].id, b.copy) == *board;
    placed(plan)
        .filter(|(b, ..)| on(b))
        .map(|(.., blank)| blank.front)
        .filter(|front| stays.contains(front))
        .collect()
}
