//! Fronts: made once or said not to be, from the board they are pinned to.

use super::*;

#[test]
fn a_front_forgotten_is_caught() {
    assert_eq!(spoiled(|plan| plan.not_made.clear()), [Rule::Fronts]);
}

#[test]
fn a_front_made_and_not_made_is_caught() {
    let rules = spoiled(|plan| {
        let mut also = plan.not_made[0].clone();
        also.front = 0;
        plan.not_made.push(also);
    });
    assert_eq!(rules, [Rule::Fronts]);
}

#[test]
fn a_front_made_twice_is_caught() {
    let rules = spoiled(|plan| {
        plan.boards.push(cut(
            0,
            2,
            blanks(&[(0, 21.0)], 2.0, 0.125, 6.375),
            [23.125, 94.0, 8.0],
        ));
    });
    assert!(rules.contains(&Rule::Fronts), "{rules:?}");
}

#[test]
fn a_front_that_is_none_is_caught() {
    let mut plan = plan();
    blank(&mut plan, 0, 0).front = 17;
    assert_eq!(broken(&job(), &plan), [Rule::Fronts]);
}

#[test]
fn a_pinned_front_from_another_board_is_caught() {
    let pin = |id: &str| changed(|job, _| job.fronts[0].boards = vec![id.to_owned()]);
    assert_eq!(pin("B"), [Rule::Fronts]);
    assert_eq!(pin("A"), GOOD);
}

#[test]
fn a_missing_stave_is_caught() {
    let rules = spoiled(|plan| {
        plan.boards.pop();
    });
    assert!(rules.contains(&Rule::Fronts), "{rules:?}");
}

#[test]
fn a_front_from_none_of_its_boards_or_from_a_barred_one_is_caught() {
    let any = |ids: &[&str]| {
        let ids = ids.iter().map(|id| (*id).to_owned()).collect();
        changed(|job, _| job.fronts[0].boards = ids)
    };
    assert_eq!(any(&["B", "A"]), GOOD);
    assert_eq!(any(&["B", "C"]), [Rule::Fronts]);
    let bar = |id: &str| changed(|job, _| job.fronts[0].not_boards = vec![id.to_owned()]);
    assert_eq!(bar("B"), GOOD);
    assert_eq!(bar("A"), [Rule::Fronts]);
}

#[test]
fn a_board_left_out_and_cut_all_the_same_is_caught() {
    assert_eq!(
        changed(|job, _| job.boards[0].left_out = true),
        [Rule::Fronts]
    );
}
