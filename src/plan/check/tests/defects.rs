//! Rule 3: clear of defects.

use super::*;

/// The knot of board A, moved.
fn knot_at(from: f64, low: f64) -> Vec<Rule> {
    changed(|job, _| {
        let knot = &mut job.boards[0].defects[0];
        (knot.from, knot.to) = (inches(from), inches(from + 1.0));
        (knot.low, knot.high) = (inches(low), inches(low + 1.0));
    })
}

#[test]
fn a_knot_under_a_front_is_caught() {
    assert_eq!(knot_at(10.0, 3.0), [Rule::Defects]);
}

#[test]
fn a_knot_needs_its_clearance_along_and_across() {
    assert_eq!(knot_at(44.375, 3.0), GOOD);
    assert_eq!(knot_at(44.25, 3.0), [Rule::Defects]);
    assert_eq!(knot_at(10.0, 6.625), GOOD);
    assert_eq!(knot_at(10.0, 6.5), [Rule::Defects]);
}

#[test]
fn a_defect_counts_only_on_the_face_it_shows_on() {
    let turned = spoiled(|plan| {
        for index in 0..2 {
            blank(plan, 1, index).face = Face::Up;
        }
    });
    assert_eq!(turned, [Rule::Defects]);
}
