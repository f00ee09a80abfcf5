//! Rule 1: where the saw can cut.

use super::*;

#[test]
fn a_section_in_the_end_trim_is_caught() {
    let rules = changed(|job, _| job.settings.allowances.end_trim = inches(2.25));
    assert!(rules.contains(&Rule::Cuts), "{rules:?}");
}

#[test]
fn a_crooked_section_needs_more_of_its_edges() {
    // Strip 0.125 to 5.875 of a board 6 wide: 0.0625 to spare. The section is 19 of 48
    // long, so that a crook of 0.9 takes 0.9 (19/48)^2 / 2 = 0.0705 off either edge, and one
    // of 0.79 takes 0.0619.
    let crooked = |crook| {
        changed(|job, _| {
            job.boards[2].crook = inches(crook);
            job.settings.allowances.edge_trim = inches(0.0625);
        })
    };
    assert_eq!(crooked(0.0), GOOD);
    assert_eq!(crooked(0.79), GOOD);
    assert_eq!(crooked(0.9), [Rule::Cuts]);
}

#[test]
fn two_sections_need_a_kerf_between() {
    let with_gap = |gap: f64| {
        spoiled(|plan| {
            let first = plan.boards[0].sections[0].clone();
            let split = |blank: &Blank, shift: f64| {
                let mut section = first.clone();
                let mut blank = blank.clone();
                blank.from += inches(shift);
                blank.to += inches(shift);
                (section.from, section.to) = (blank.from, blank.to);
                section.strips[0].blanks = vec![blank];
                section
            };
            let [one, two] = &first.strips[0].blanks[..] else {
                unreachable!()
            };
            let (one, mut two) = (split(one, 0.0), split(two, gap - 0.125));
            two.strips[0].blanks[0].stretch = 2;
            plan.boards[0].kept[0].from += inches(gap - 0.125);
            plan.boards[0].sections = vec![one, two];
        })
    };
    assert_eq!(with_gap(0.125), GOOD);
    assert_eq!(with_gap(0.0625), [Rule::Cuts]);
}

#[test]
fn two_strips_need_a_rip_kerf_between() {
    let with_gap = |gap: f64| {
        changed(|job, plan| {
            // Both fronts of the top run 3 high: two strips of 3.25 in 8.
            for front in &mut job.fronts[..2] {
                front.height = inches(3.0);
            }
            let blank = |front, low: f64| blanks(&[(front, 21.0)], 2.0, low, low + 3.25);
            let second = cut(0, 1, blank(1, 3.375 + gap), [23.125, 94.0, 8.0]);
            let mut first = cut(0, 1, blank(0, 0.125), [23.125, 94.0, 8.0]);
            first.sections[0]
                .strips
                .extend(second.sections[0].strips.clone());
            first.sections[0].strips[1].blanks[0].stretch = 2;
            plan.boards[0] = first;
        })
    };
    assert_eq!(with_gap(0.125), GOOD);
    assert_eq!(with_gap(0.0625), [Rule::Cuts]);
}

#[test]
fn blanks_closer_than_a_kerf_are_caught() {
    let rules = changed(|job, _| job.settings.allowances.crosscut_kerf = inches(0.25));
    assert!(rules.contains(&Rule::Cuts), "{rules:?}");
}

#[test]
fn a_blank_outside_its_strip_is_caught() {
    let rules = spoiled(|plan| plan.boards[0].sections[0].strips[0].high = inches(6.25));
    assert_eq!(rules, [Rule::Cuts]);
}

#[test]
fn a_section_in_a_boards_own_trim_is_caught() {
    // The section of A begins at the job's end trim, 2 in.
    let trim = |own| changed(|job, _| job.boards[0].trim_hook = Some(inches(own)));
    assert_eq!(trim(2.0), GOOD);
    assert!(trim(2.0625).contains(&Rule::Cuts));
    // With less to trim it lies within.
    assert!(!trim(1.0).contains(&Rule::Cuts));
}
