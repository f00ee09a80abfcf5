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
