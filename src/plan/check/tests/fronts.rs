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
    let pin = |id: &str| changed(|job, _| job.fronts[0].board = Some(id.to_owned()));
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
