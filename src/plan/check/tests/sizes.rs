//! Rules 2 and 7: blanks and staves large enough.

use super::*;

#[test]
fn a_front_longer_than_its_blank_is_caught() {
    assert_eq!(
        changed(|job, _| job.fronts[0].width = inches(20.0625)),
        [Rule::Sizes]
    );
}

#[test]
fn a_front_wider_than_its_blank_is_caught() {
    assert_eq!(
        changed(|job, _| job.fronts[0].height = inches(6.0625)),
        [Rule::Sizes]
    );
}

#[test]
fn a_vertical_front_is_measured_by_its_height_along() {
    let rules = changed(|job, _| {
        for front in &mut job.fronts[..2] {
            front.grain = crate::job::Grain::Vertical;
            (front.width, front.height) = (front.height, front.width);
        }
    });
    assert_eq!(rules, GOOD);
}

#[test]
fn staves_that_lack_a_joint_are_caught() {
    assert_eq!(
        changed(|job, _| job.settings.glue.joint = inches(0.1875)),
        [Rule::Staves]
    );
}

#[test]
fn a_narrow_stave_is_caught() {
    assert_eq!(
        changed(|job, _| job.settings.glue.least_stave = inches(6.0)),
        [Rule::Staves]
    );
}

#[test]
fn glue_that_is_not_allowed_is_caught() {
    assert_eq!(changed(|job, _| job.fronts[4].glue = false), [Rule::Staves]);
}

#[test]
fn a_blank_larger_than_it_must_be_is_caught_to_the_nanometre() {
    let one = Length::from_nm(1);
    assert_eq!(changed(|job, _| job.fronts[1].width -= one), [Rule::Sizes]);
    assert_eq!(
        changed(|job, _| {
            job.fronts[0].height -= one;
            job.fronts[1].height -= one;
        }),
        [Rule::Sizes]
    );
}

#[test]
fn a_blank_is_as_wide_as_the_widest_front_of_its_stretch_needs() {
    assert_eq!(changed(|job, _| job.fronts[0].height = inches(5.0)), GOOD);
    assert_eq!(
        changed(|job, plan| {
            job.fronts[0].height = inches(5.0);
            blank(plan, 0, 1).stretch = 2;
        }),
        [Rule::Sizes]
    );
}

#[test]
fn a_blank_wider_than_the_machines_take_is_caught() {
    // The widest blanks are 6.25 in wide.
    let most = |wide| changed(|job, _| job.settings.machines.widest = Some(inches(wide)));
    assert_eq!(most(6.25), GOOD);
    assert_eq!(most(6.1875), [Rule::Sizes]);
}
