//! Plain cuts, sizes and kept pieces after the saw has begun: what was there is held to nothing
//! anew, what is newly placed is.

use super::*;
use crate::job::Crosscut;
use crate::plan::{Fate, Kept, Sawn, SawnPiece, check_recut};

/// The blanks of these fronts, cut where the plan has them.
fn cut_of(plan: &Plan, fronts: &[usize], fate: Fate) -> Sawn {
    let mut sawn = Sawn::default();
    for (board, section, strip, blank) in crate::plan::placed(plan) {
        if fronts.contains(&blank.front) {
            sawn.pieces.push(SawnPiece {
                board: board.board,
                copy: board.copy,
                section: (section.from, section.to),
                strip: (strip.low, strip.high),
                blank: blank.clone(),
                fate,
            });
        }
    }
    sawn
}

fn rules(job: &Job, plan: &Plan, sawn: &Sawn) -> Vec<Rule> {
    let mut plan = plan.clone();
    retotal(&mut plan, job);
    let found = check_recut(job, &plan, sawn, false, &Limits::default());
    let mut rules: Vec<Rule> = found.err().into_iter().flatten().map(|v| v.rule).collect();
    rules.dedup();
    rules
}

/// D1 and D2 in a section that runs on for two inches past them.
fn loose() -> Plan {
    let mut plan = plan();
    plan.boards[0].sections[0].to += inches(2.0);
    plan.boards[0].kept[0].from += inches(2.0);
    plan
}

#[test]
fn only_what_is_newly_placed_must_be_plain() {
    let (job, plan) = (job(), loose());
    assert_eq!(rules(&job, &plan, &Sawn::default()), [Rule::Plain]);
    let stays = Sawn {
        stays: vec![0, 1],
        ..Sawn::default()
    };
    assert_eq!(rules(&job, &plan, &stays), GOOD);
    assert_eq!(
        rules(&job, &plan, &cut_of(&plan, &[0, 1], Fate::Made)),
        GOOD
    );
}

#[test]
fn chalk_that_stays_may_be_wider_than_the_rest_of_its_stretch_needs() {
    let (mut job, plan) = (job(), plan());
    job.fronts[0].height = inches(5.0);
    job.fronts[1].height = inches(5.0);
    assert_eq!(rules(&job, &plan, &Sawn::default()), [Rule::Sizes]);
    let stays = Sawn {
        stays: vec![0, 1],
        ..Sawn::default()
    };
    assert_eq!(rules(&job, &plan, &stays), GOOD);
    job.fronts[1].height = inches(6.5);
    assert_eq!(rules(&job, &plan, &stays), [Rule::Sizes]);
}

#[test]
fn a_new_blank_beside_a_cut_one_lies_as_near_it_as_may_be() {
    // D1 is cut from a section 2 to 60; D2 is new in its strip, a kerf on, or at the far end.
    let second_at = |at: f64| {
        let (job, mut plan) = (job(), plan());
        plan.boards[0].sections[0].to = inches(59.5);
        plan.boards[0].kept[0].from = inches(59.625);
        let sawn = cut_of(&plan, &[0], Fate::Cut);
        let new = blank(&mut plan, 0, 1);
        (new.from, new.to, new.stretch) = (inches(at), inches(at + 21.0), 2);
        rules(&job, &plan, &sawn)
    };
    assert_eq!(second_at(23.125), GOOD);
    assert_eq!(second_at(38.5), GOOD);
    assert_eq!(second_at(30.0), [Rule::Plain]);
}

#[test]
fn a_sawn_end_counts_as_an_end_trim() {
    // The board is cut through at 9 7/8: D1 and D2, in a section grown from there to the far trim,
    // or from half an inch on.
    let section_from = |from: f64| {
        let (mut job, mut plan) = (job(), plan());
        job.boards[0].defects.clear();
        plan.boards[0].sections[0].from = inches(from);
        plan.boards[0].sections[0].to = inches(94.0);
        plan.boards[0].kept.clear();
        for index in 0..2 {
            let blank = blank(&mut plan, 0, index);
            blank.from += inches(from - 2.0);
            blank.to += inches(from - 2.0);
        }
        let sawn = Sawn {
            crosscuts: vec![Crosscut {
                board: 0,
                copy: 1,
                at: inches(9.875),
            }],
            ..Sawn::default()
        };
        rules(&job, &plan, &sawn)
    };
    assert_eq!(section_from(10.0), GOOD);
    assert_eq!(section_from(10.5), [Rule::Plain]);
}

#[test]
fn a_board_cut_into_can_not_be_left_out() {
    let (job, plan) = (job(), plan());
    let mut sawn = cut_of(&plan, &[0, 1], Fate::Spoiled);
    let mut without = plan.clone();
    let board = without.boards.remove(0);
    without.not_made.insert(0, plan.not_made[0].clone());
    without.not_made.insert(1, plan.not_made[0].clone());
    (without.not_made[0].front, without.not_made[1].front) = (0, 1);
    assert_eq!(rules(&job, &without, &sawn), [Rule::Sawn]);
    // With its strip empty it is all right, its one end kept; so is a board only cut through.
    let mut spent = board;
    spent.sections[0].strips[0].blanks.clear();
    without.boards.insert(0, spent);
    assert_eq!(rules(&job, &without, &sawn), GOOD);
    sawn.crosscuts.push(Crosscut {
        board: 0,
        copy: 2,
        at: inches(40.0),
    });
    assert_eq!(rules(&job, &without, &sawn), [Rule::Sawn]);
    let piece = |from: f64, to: f64| Kept {
        from: inches(from),
        to: inches(to),
        low: Length::ZERO,
        high: inches(8.0),
    };
    let through = crate::plan::BoardPlan {
        board: 0,
        copy: 2,
        kept: vec![piece(2.0, 40.0), piece(40.125, 94.0)],
        sections: Vec::new(),
    };
    without.boards.insert(1, through);
    assert_eq!(rules(&job, &without, &sawn), GOOD);
    without.boards[1].kept.pop();
    assert_eq!(rules(&job, &without, &sawn), [Rule::Kept]);
}

#[test]
fn the_tone_of_a_board_that_yields_nothing_counts_no_more() {
    let (job, mut plan) = (job(), plan());
    let sawn = cut_of(&plan, &[2, 3], Fate::Spoiled);
    plan.boards[1].sections[0].strips[0].blanks.clear();
    for front in [2, 3] {
        let missing = crate::plan::NotMade {
            front,
            ..plan.not_made[0].clone()
        };
        plan.not_made.push(missing);
    }
    assert_eq!(rules(&job, &plan, &sawn), GOOD);
    retotal(&mut plan, &job);
    // A has tone 4 and C 5; B, 6, is spent.
    assert_eq!(plan.totals.tone_case, 1.0);
    assert_eq!(plan.totals.boards_used, 4);
}
