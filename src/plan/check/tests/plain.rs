//! Rule 10: plain cuts. Every place is worked out by hand beside its check.

use super::*;
use crate::job::Defect;
use crate::plan::{BoardPlan, Kept, Section, Strip};

/// A section of one strip: its ends, and where the fronts' blanks start.
type Laid<'a> = (f64, f64, &'a [(usize, f64)]);

/// D1 and D2, each 21 by 6.25 as a blank, in sections of board A (96 by 8, its trims 2), each a run
/// of its own; what is worth keeping (24 by 4) is kept.
fn laid(sections: &[Laid], change: impl FnOnce(&mut Job)) -> Vec<Rule> {
    let (mut job, mut plan) = (job(), plan());
    job.boards[0].defects.clear();
    change(&mut job);
    plan.boards[0] = on_board_a(&job, sections);
    let laid = |front: usize| {
        sections
            .iter()
            .any(|s| s.2.iter().any(|one| one.0 == front))
    };
    plan.not_made.retain(|missing| !laid(missing.front));
    retotal(&mut plan, &job);
    broken(&job, &plan)
}

fn on_board_a(job: &Job, sections: &[Laid]) -> BoardPlan {
    let mut stretch = 0;
    let mut section = |&(from, to, fronts): &Laid| {
        let one = |&(front, at): &(usize, f64)| {
            let long = (job.fronts[front].width.inches()) + 1.0;
            let mut blank = blanks(&[(front, long)], at, 0.125, 6.375).remove(0);
            if front < 2 {
                stretch += 1;
                blank.stretch = stretch;
            }
            blank
        };
        Section {
            from: inches(from),
            to: inches(to),
            strips: vec![Strip {
                low: inches(0.125),
                high: inches(6.375),
                blanks: fronts.iter().map(one).collect(),
            }],
        }
    };
    let laid: Vec<Section> = sections.iter().map(&mut section).collect();
    let (first, last) = (sections[0].0, sections[sections.len() - 1].1);
    let ends = [(2.0, first - 0.125), (last + 0.125, 94.0)];
    let kept = ends.iter().filter(|(from, to)| to - from >= 24.0);
    BoardPlan {
        board: 0,
        copy: 1,
        kept: kept
            .map(|&(from, to)| Kept {
                from: inches(from),
                to: inches(to),
                low: Length::ZERO,
                high: inches(8.0),
            })
            .collect(),
        sections: laid,
    }
}

fn knot(job: &mut Job, from: f64, to: f64) {
    job.boards[0].defects.push(Defect {
        kind: crate::job::DefectKind::Knot,
        from: inches(from),
        to: inches(to),
        low: inches(3.0),
        high: inches(4.0),
        side: crate::job::DefectSide::Both,
        notes: String::new(),
    });
}

/// D1 and D2 in one section.
fn both(from: f64, to: f64, first: f64, second: f64) -> Vec<Rule> {
    laid(&[(from, to, &[(0, first), (1, second)])], |_| {})
}

#[test]
fn a_tight_section_may_lie_anywhere() {
    // Two blanks of 21 and a kerf: 42.125.
    assert_eq!(both(2.0, 44.125, 2.0, 23.125), GOOD);
    assert_eq!(both(5.5, 47.625, 5.5, 26.625), GOOD);
}

#[test]
fn a_section_a_hair_longer_than_its_blanks_is_caught() {
    assert_eq!(both(2.0, 44.125_001, 2.0, 23.125), [Rule::Plain]);
    assert_eq!(both(1.999_999 + 1.0, 45.125, 3.0, 24.125), [Rule::Plain]);
}

#[test]
fn a_section_may_grow_over_all_the_slack_to_the_end_trim() {
    assert_eq!(both(2.0, 94.0, 2.0, 23.125), GOOD);
    assert_eq!(both(2.0, 94.0, 51.875, 73.0), GOOD);
    assert_eq!(both(2.0, 93.0, 2.0, 23.125), [Rule::Plain]);
    // Its hook end is nowhere in particular: slack would be shared with it.
    assert_eq!(both(10.0, 94.0, 10.0, 31.125), [Rule::Plain]);
}

#[test]
fn a_section_may_grow_to_just_the_shortest_kept_piece() {
    // One blank of 21 grown to 24.
    let one = |from, to, at| {
        laid(
            &[(from, to, &[(0, at)]), (60.0, 81.0, &[(1, 60.0)])],
            |_| {},
        )
    };
    assert_eq!(one(2.0, 26.0, 2.0), GOOD);
    assert_eq!(one(2.0, 26.0, 5.0), GOOD);
    assert_eq!(one(2.0, 25.0, 2.0), [Rule::Plain]);
    assert_eq!(one(2.0, 27.0, 2.0), [Rule::Plain]);
    assert_eq!(one(7.0, 31.0, 7.0), [Rule::Plain]);
}

#[test]
fn a_section_may_grow_to_an_end_trim_and_from_there_to_just_the_shortest_kept_piece() {
    // A knot from 1 3/4 to 2 3/4 keeps the blank from 3 on; the section begins at the end trim.
    let one = |from: f64, to: f64, at: f64| {
        laid(
            &[(from, to, &[(0, at)]), (60.0, 81.0, &[(1, 60.0)])],
            |job| knot(job, 1.75, 2.75),
        )
    };
    assert_eq!(one(2.0, 26.0, 3.0), GOOD);
    assert_eq!(one(2.0, 26.0, 5.0), GOOD);
    assert_eq!(one(2.0, 27.0, 3.0), [Rule::Plain]);
    assert_eq!(one(2.5, 26.5, 3.0), [Rule::Plain]);
}

#[test]
fn what_has_grown_to_the_shortest_kept_piece_anchors_its_neighbours() {
    // The first, 2 to 26, lies at the end trim. The second has grown to the far end trim.
    let second_at =
        |at: f64, to: f64| laid(&[(2.0, 26.0, &[(0, 2.0)]), (at, to, &[(1, at)])], |_| {});
    assert_eq!(second_at(26.125, 94.0), GOOD);
    assert_eq!(second_at(26.125, 50.125), GOOD);
    assert_eq!(second_at(27.0, 94.0), [Rule::Plain]);
    assert_eq!(second_at(27.0, 48.0), GOOD);
}

#[test]
fn a_blank_just_clear_of_a_knot_is_an_anchor() {
    // A knot from 4 to 5 lets blanks begin at 5.25.
    let one = |from: f64| {
        laid(
            &[
                (from, from + 24.0, &[(0, from)]),
                (60.0, 81.0, &[(1, 60.0)]),
            ],
            |job| knot(job, 4.0, 5.0),
        )
    };
    assert_eq!(one(5.25), GOOD);
    assert_eq!(one(5.5), [Rule::Plain]);
}

#[test]
fn a_section_may_grow_to_a_kerf_from_its_neighbour_but_not_two_into_one_slack() {
    let two = |first_to: f64, second_from: f64, first_at, second_at| {
        laid(
            &[
                (2.0, first_to, &[(0, first_at)]),
                (second_from, 94.0, &[(1, second_at)]),
            ],
            |_| {},
        )
    };
    // Tight at either end; the one grown up to the other; the other way round.
    assert_eq!(two(23.0, 73.0, 2.0, 73.0), GOOD);
    assert_eq!(two(23.0, 23.125, 2.0, 73.0), GOOD);
    assert_eq!(two(72.875, 73.0, 2.0, 73.0), GOOD);
    assert_eq!(two(40.0, 40.125, 2.0, 73.0), [Rule::Plain]);
    assert_eq!(two(23.0, 24.0, 2.0, 73.0), [Rule::Plain]);
}

#[test]
fn a_section_beside_which_another_has_grown_is_anchored() {
    // The second has grown from 23.125 up to the first at its hook end and lies at the end trim; the
    // first lies at no end, and then just clear of a knot.
    let first_at = |from: f64, with_knot: bool| {
        let grown = from + 21.125;
        laid(
            &[
                (from, from + 21.0, &[(0, from)]),
                (grown, 94.0, &[(1, 73.0)]),
            ],
            |job| {
                if with_knot {
                    knot(job, 4.0, 5.0);
                }
            },
        )
    };
    assert_eq!(first_at(2.0, false), GOOD);
    assert_eq!(first_at(5.25, false), [Rule::Plain]);
    assert_eq!(first_at(5.25, true), GOOD);
    assert_eq!(first_at(5.5, true), [Rule::Plain]);
}

#[test]
fn a_kerf_from_an_anchored_section_is_an_anchor() {
    // Three sections in a row: the second stands a kerf from the first, the third has grown to the
    // second; with the second a little on nothing holds it.
    let second_at = |at: f64| {
        laid(
            &[
                (2.0, 23.0, &[(0, 2.0)]),
                (at, at + 21.0, &[(1, at)]),
                (at + 21.125, 94.0, &[(5, 82.0)]),
            ],
            |job| (job.fronts[5].width, job.fronts[5].height) = (inches(11.0), inches(6.0)),
        )
    };
    assert_eq!(second_at(23.125), GOOD);
    assert_eq!(second_at(24.0), [Rule::Plain]);
}

#[test]
fn blanks_of_a_strip_are_pushed_to_one_side() {
    // The section has grown to both end trims.
    assert_eq!(both(2.0, 94.0, 2.0, 23.125), GOOD);
    assert_eq!(both(2.0, 94.0, 51.875, 73.0), GOOD);
    assert_eq!(both(2.0, 94.0, 2.0, 73.0), [Rule::Plain]);
    assert_eq!(both(2.0, 94.0, 20.0, 41.125), [Rule::Plain]);
    assert_eq!(both(2.0, 94.0, 2.0, 23.25), [Rule::Plain]);
}

#[test]
fn a_blank_skips_a_knot_and_no_more() {
    // A knot from 25 to 26: the second blank begins at 26.25, or the first must end at 24.75.
    let second_at = |at: f64, to: f64| {
        laid(&[(2.0, to, &[(0, 2.0), (1, at)])], |job| {
            knot(job, 25.0, 26.0)
        })
    };
    assert_eq!(second_at(26.25, 47.25), GOOD);
    assert_eq!(second_at(26.5, 47.5), [Rule::Plain]);
    assert_eq!(second_at(26.25, 47.5), [Rule::Plain]);
}

#[test]
fn a_gap_is_wider_for_milling_only_as_far_as_it_must_be() {
    // Four blanks of 5.9 in one stretch of a bowed board. Pieces of two are 11.925 long with a
    // kerf between, and 12 is the shortest to mill: the gaps within them open to 0.2. The whole
    // stretch, 23.975 of 96 at least, is too thin in one piece: 3.1 (23.975/96)^2 = 0.193 of the
    // 0.1875 to spare.
    let with_gaps = |gaps: [f64; 3], bow: f64| {
        changed(|job, plan| {
            job.settings.allowances.longest_skip = inches(3.0);
            job.boards[0].defects.clear();
            job.boards[0].bow = inches(bow);
            for front in &mut job.fronts[..4] {
                (front.width, front.height) = (inches(4.9), inches(6.0));
            }
            job.runs = vec![
                crate::job::Run {
                    name: "low".to_owned(),
                    fronts: vec![0, 1, 2, 3],
                },
                job.runs[2].clone(),
                job.runs[3].clone(),
            ];
            let mut row = Vec::new();
            let mut at = 2.0;
            for front in 0..4 {
                row.extend(blanks(&[(front, 5.9)], at, 0.125, 6.375));
                at += 5.9 + gaps.get(front).copied().unwrap_or_default();
            }
            plan.boards.remove(1);
            plan.boards[0] = cut(0, 1, row, [at + 0.125, 94.0, 8.0]);
        })
    };
    assert_eq!(with_gaps([0.125, 0.125, 0.125], 0.5), GOOD);
    assert_eq!(with_gaps([0.2, 0.125, 0.2], 3.1), GOOD);
    assert_eq!(with_gaps([0.125, 0.125, 0.125], 3.1), [Rule::Thickness]);
    assert_eq!(with_gaps([0.25, 0.125, 0.2], 3.1), [Rule::Plain]);
    assert_eq!(with_gaps([0.2, 0.125, 0.2], 0.5), [Rule::Plain]);
}

#[test]
fn a_strip_wider_than_its_widest_blank_is_caught() {
    assert_eq!(
        spoiled(|plan| plan.boards[0].sections[0].strips[0].high = inches(6.376)),
        [Rule::Plain]
    );
    assert_eq!(
        spoiled(|plan| plan.boards[0].sections[0].strips[0].low = inches(0.1249)),
        [Rule::Cuts]
    );
}

#[test]
fn a_narrower_blank_lies_at_an_edge_of_its_strip() {
    // D2 is 5 high and its blank 5.25 wide, in a strip of 6.25 and a stretch of its own.
    let low = |low: f64| {
        changed(|job, plan| {
            job.fronts[1].height = inches(5.0);
            let narrow = blank(plan, 0, 1);
            narrow.stretch = 2;
            (narrow.low, narrow.high) = (inches(low), inches(low + 5.25));
        })
    };
    assert_eq!(low(0.125), GOOD);
    assert_eq!(low(1.125), GOOD);
    assert_eq!(low(0.5), [Rule::Plain]);
}

/// The two staves of front G this wide, each alone on a board this wide.
fn staves(board: f64, widths: [f64; 2], height: f64) -> Vec<Rule> {
    changed(|job, plan| {
        job.fronts[4].height = inches(height);
        job.boards[2].width = inches(board);
        for (planned, width) in plan.boards[2..].iter_mut().zip(widths) {
            let strip = &mut planned.sections[0].strips[0];
            strip.high = inches(0.125 + width);
            strip.blanks[0].high = strip.high;
            planned.kept[0].high = inches(board);
        }
    })
}

#[test]
fn staves_are_whole_steps_but_for_what_the_others_leave_missing() {
    // 11 and 3/8 for rough width and joint; steps of 1/8.
    assert_eq!(staves(6.0, [5.75, 5.625], 11.0), GOOD);
    assert_eq!(staves(6.0, [5.75, 5.75], 11.0), GOOD);
    assert_eq!(staves(6.0, [5.7, 5.675], 11.0), [Rule::Plain]);
    assert_eq!(staves(6.0, [5.75, 5.6875], 11.0625), GOOD);
    assert_eq!(staves(6.0, [5.75, 5.6875], 11.0), [Rule::Plain]);
    assert_eq!(staves(6.0, [5.6875, 5.6875], 11.0), [Rule::Plain]);
}

#[test]
fn a_stave_alone_in_its_section_may_take_all_its_width() {
    // A board 6 1/32 wide has 5 25/32 between its trims.
    assert_eq!(staves(6.03125, [5.78125, 5.625], 11.0), GOOD);
    assert_eq!(staves(6.03125, [5.78125, 5.78125], 11.0), GOOD);
    assert_eq!(staves(6.0625, [5.78125, 5.625], 11.0), [Rule::Plain]);
}

#[test]
fn plain_cuts_alone_are_a_note() {
    let mut plan = plan();
    plan.boards[0].sections[0].strips[0].high = inches(6.5);
    let found = check(&job(), &plan, false, &Limits::default()).unwrap_err();
    assert!(found.iter().all(|fault| fault.is_note()));
    let mut plan = self::plan();
    blank(&mut plan, 0, 1).to = inches(44.0);
    let found = check(&job(), &plan, false, &Limits::default()).unwrap_err();
    assert!(!found.iter().any(|fault| fault.is_note()));
}
