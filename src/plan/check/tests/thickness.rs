//! Rule 5: thick enough once flat, and room to mill.

use super::*;
use crate::plan::{Fate, Sawn, SawnPiece, check_recut};

/// Board B: 60 by 6.5, its pieces 5.25 wide and milled as one of 20.125, needing 0.8125.
fn warped(thick: f64, bow: f64, cup: f64, twist: f64) -> Vec<Rule> {
    changed(|job, _| {
        let board = &mut job.boards[1];
        board.thickness = inches(thick);
        (board.bow, board.cup, board.twist) = (inches(bow), inches(cup), inches(twist));
    })
}

#[test]
fn a_flat_board_needs_the_front_and_two_skims() {
    assert_eq!(warped(0.8125, 0.0, 0.0, 0.0), GOOD);
    assert_eq!(warped(0.8124, 0.0, 0.0, 0.0), [Rule::Thickness]);
}

#[test]
fn bow_cup_and_twist_each_take_their_share() {
    // Of 1 in 0.1875 are to spare: bow 0.1875 / (20.125/60)^2 = 1.6666,
    // cup 0.1875 / (5.25/6.5)^2 = 0.2874, twist 0.1875 / (20.125/60 x 5.25/6.5) = 0.6921.
    assert_eq!(warped(1.0, 1.666, 0.0, 0.0), GOOD);
    assert_eq!(warped(1.0, 1.668, 0.0, 0.0), [Rule::Thickness]);
    assert_eq!(warped(1.0, 0.0, 0.287, 0.0), GOOD);
    assert_eq!(warped(1.0, 0.0, 0.288, 0.0), [Rule::Thickness]);
    assert_eq!(warped(1.0, 0.0, 0.0, 0.692), GOOD);
    assert_eq!(warped(1.0, 0.0, 0.0, 0.693), [Rule::Thickness]);
    assert_eq!(warped(1.0, 0.8, 0.1, 0.2), [Rule::Thickness]);
}

#[test]
fn long_blanks_are_milled_one_by_one() {
    // 21 of 96 each: a bow of 1 takes 0.048; the stretch of 42.125 would lose 0.193.
    assert_eq!(changed(|job, _| job.boards[0].bow = inches(1.0)), GOOD);
}

#[test]
fn a_short_stretch_alone_in_its_strip_needs_the_length_free() {
    // Front G is 19 long: with 20 asked for there is no room in its section of 19.
    let asked = |safe| changed(|job, _| job.settings.allowances.shortest_safe = inches(safe));
    assert_eq!(asked(19.0), GOOD);
    assert_eq!(asked(20.0), [Rule::Thickness]);
}

#[test]
fn waste_beside_a_short_stretch_is_room_enough() {
    let with_section_to = |to: f64| {
        changed(|job, plan| {
            job.fronts[5].width = inches(7.0);
            plan.not_made.clear();
            let short = blanks(&[(5, 8.0)], 2.0, 0.125, 5.375);
            let mut planned = cut(0, 2, short, [to + 0.125, 94.0, 8.0]);
            planned.sections[0].to = inches(to);
            plan.boards.insert(1, planned);
        })
    };
    assert_eq!(with_section_to(14.0), GOOD);
    assert_eq!(with_section_to(13.9375), [Rule::Thickness]);
}

#[test]
fn two_short_stretches_do_not_share_their_waste() {
    let with_section_to = |to: f64| {
        changed(|job, plan| {
            job.fronts[0].width = inches(7.0);
            job.fronts[1].width = inches(7.0);
            let mut two = blanks(&[(0, 8.0), (1, 8.0)], 2.0, 0.125, 6.375);
            (two[1].from, two[1].to) = (inches(14.125), inches(22.125));
            two[1].stretch = 2;
            let mut planned = cut(0, 1, two, [to + 0.125, 94.0, 8.0]);
            planned.sections[0].to = inches(to);
            plan.boards[0] = planned;
        })
    };
    assert_eq!(with_section_to(26.125), GOOD);
    assert_eq!(with_section_to(26.0625), [Rule::Thickness]);
}

#[test]
fn a_short_stretch_that_is_cut_already_needs_no_length_of_its_strip() {
    let (mut job, mut plan) = (job(), plan());
    job.fronts[0].width = inches(7.0);
    job.fronts[1].width = inches(7.0);
    let mut two = blanks(&[(0, 8.0), (1, 8.0)], 2.0, 0.125, 6.375);
    (two[1].from, two[1].to) = (inches(10.125), inches(18.125));
    two[1].stretch = 2;
    plan.boards[0] = cut(0, 1, two, [22.25, 94.0, 8.0]);
    plan.boards[0].sections[0].to = inches(22.125);
    retotal(&mut plan, &job);
    assert_eq!(broken(&job, &plan), [Rule::Thickness]);
    let section = &plan.boards[0].sections[0];
    let strip = &section.strips[0];
    let sawn = Sawn {
        pieces: vec![SawnPiece {
            board: 0,
            copy: 1,
            section: (section.from, section.to),
            strip: (strip.low, strip.high),
            blank: strip.blanks[0].clone(),
            fate: Fate::Cut,
        }],
        crosscuts: Vec::new(),
        stays: Vec::new(),
    };
    let limits = Limits::default();
    assert_eq!(check_recut(&job, &plan, &sawn, false, &limits), Ok(()));
}
