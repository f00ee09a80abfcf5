//! Boards: known, cut once, cut for something.

use super::*;

#[test]
fn a_board_cut_twice_is_caught() {
    let rules = spoiled(|plan| plan.boards[3].copy = 1);
    assert_eq!(rules, [Rule::Boards]);
}

#[test]
fn a_copy_the_pile_does_not_hold_is_caught() {
    assert_eq!(spoiled(|plan| plan.boards[1].copy = 2), [Rule::Boards]);
}

#[test]
fn a_board_that_is_none_is_caught() {
    let mut plan = plan();
    plan.boards[0].board = 9;
    assert_eq!(broken(&job(), &plan), [Rule::Boards]);
}

#[test]
fn a_strip_without_blanks_is_caught() {
    let rules = spoiled(|plan| plan.boards[1].sections[0].strips[0].blanks.clear());
    assert_eq!(rules, [Rule::Boards]);
}

#[test]
fn kinds_with_one_name_are_one_row_of_boards() {
    // Copies that carry different defects are kinds of their own under the same name.
    let rules = changed(|job, plan| {
        let mut twin = job.boards[2].clone();
        twin.copies = vec![2];
        job.boards[2].copies = vec![1];
        job.boards.push(twin);
        plan.boards[3].board = 3;
    });
    assert_eq!(rules, GOOD);
}
