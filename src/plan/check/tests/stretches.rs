//! Rule 4: a stretch follows its run in one strip.

use super::*;

#[test]
fn a_stretch_out_of_order_is_caught() {
    let swapped = spoiled(|plan| {
        blank(plan, 0, 0).front = 1;
        blank(plan, 0, 1).front = 0;
    });
    assert_eq!(swapped, [Rule::Stretches]);
    let turned = spoiled(|plan| {
        for index in 0..2 {
            blank(plan, 0, index).left = End::Far;
        }
    });
    assert_eq!(turned, [Rule::Stretches]);
}

#[test]
fn one_blank_turned_end_for_end_or_face_down_is_caught() {
    assert_eq!(
        spoiled(|plan| blank(plan, 0, 1).face = Face::Down),
        [Rule::Stretches]
    );
    assert_eq!(
        spoiled(|plan| blank(plan, 0, 1).left = End::Far),
        [Rule::Stretches]
    );
}

#[test]
fn one_blank_shifted_across_is_caught() {
    let rules = spoiled(|plan| {
        plan.boards[0].sections[0].strips[0].high = inches(6.5);
        let blank = blank(plan, 0, 1);
        (blank.low, blank.high) = (inches(0.25), inches(6.5));
    });
    assert_eq!(rules, [Rule::Stretches]);
}

#[test]
fn more_lost_between_than_the_longest_skip_is_caught() {
    // Gap 0.125 and 1 in of rough length are lost.
    let skip = |most| changed(|job, _| job.settings.allowances.longest_skip = inches(most));
    assert_eq!(skip(1.125), GOOD);
    assert_eq!(skip(1.0625), [Rule::Stretches]);
}

#[test]
fn less_lost_than_the_case_has_between_fronts_is_caught_as_built() {
    let space = |space| {
        changed(|job, _| {
            job.settings.allowances.between = Between::AsBuilt;
            job.fronts[0].space_after = Some(inches(space));
            job.fronts[2].space_after = Some(inches(space));
        })
    };
    assert_eq!(space(1.125), GOOD);
    assert_eq!(space(1.1875), [Rule::Stretches]);
}

#[test]
fn a_foreign_blank_in_a_stretch_is_caught() {
    let rules = changed(|job, plan| {
        (job.fronts[5].width, job.fronts[5].height) = (inches(11.0), inches(6.0));
        plan.not_made.clear();
        let mut all = blanks(&[(0, 21.0), (5, 12.0), (1, 21.0)], 2.0, 0.125, 6.375);
        all[1].stretch = 1;
        plan.boards[0] = cut(0, 1, all, [56.375, 94.0, 8.0]);
        job.settings.allowances.longest_skip = inches(30.0);
    });
    assert_eq!(rules, [Rule::Stretches]);
}

#[test]
fn a_stretch_over_two_boards_is_caught() {
    let rules = spoiled(|plan| {
        let one = |front| blanks(&[(front, 21.0)], 2.0, 0.125, 6.375);
        plan.boards[0] = cut(0, 1, one(0), [23.125, 94.0, 8.0]);
        plan.boards
            .insert(1, cut(0, 2, one(1), [23.125, 94.0, 8.0]));
    });
    assert_eq!(rules, [Rule::Stretches]);
}

#[test]
fn wrong_numbering_is_caught() {
    let from_two = spoiled(|plan| {
        blank(plan, 2, 0).stretch = 2;
        blank(plan, 3, 0).stretch = 2;
    });
    assert_eq!(from_two, [Rule::Stretches]);
    let one_stave = spoiled(|plan| blank(plan, 2, 0).stretch = 2);
    assert!(one_stave.contains(&Rule::Fronts), "{one_stave:?}");
    let skipped = spoiled(|plan| {
        for index in 0..2 {
            blank(plan, 0, index).stretch = 2;
        }
    });
    assert_eq!(skipped, [Rule::Stretches]);
}

#[test]
fn fronts_that_need_only_look_alike_may_lie_apart() {
    let rules = changed(|job, _| {
        job.settings.allowances.longest_skip = inches(1.0625);
        job.fronts[..4]
            .iter_mut()
            .for_each(|front| front.alike = true);
    });
    assert_eq!(rules, GOOD);
}
