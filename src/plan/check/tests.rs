//! Good plans pass, and every way to spoil one is caught by the rule it breaks.

use proptest::prelude::*;

use super::{Rule, check};
use crate::job::{Between, Job};
use crate::measure::{BoardFeet, Length};
use crate::plan::fixture::{blanks, cut, inches, job, plan, retotal};
use crate::plan::{Blank, End, Face, Limits, Plan};

/// The rules a plan breaks, each once.
fn broken(job: &Job, plan: &Plan) -> Vec<Rule> {
    let mut rules: Vec<Rule> = match check(job, plan, false, &Limits::default()) {
        Ok(()) => Vec::new(),
        Err(found) => found.into_iter().map(|violation| violation.rule).collect(),
    };
    rules.dedup();
    rules
}

/// What a change to the good plan breaks, totals brought up to date after it.
fn spoiled(change: impl FnOnce(&mut Plan)) -> Vec<Rule> {
    changed(|_, plan| change(plan))
}

fn changed(change: impl FnOnce(&mut Job, &mut Plan)) -> Vec<Rule> {
    let (mut job, mut plan) = (job(), plan());
    change(&mut job, &mut plan);
    retotal(&mut plan, &job);
    broken(&job, &plan)
}

fn blank(plan: &mut Plan, board: usize, index: usize) -> &mut Blank {
    &mut plan.boards[board].sections[0].strips[0].blanks[index]
}

const GOOD: Vec<Rule> = Vec::new();

#[test]
fn a_good_plan_passes() {
    assert_eq!(check(&job(), &plan(), false, &Limits::default()), Ok(()));
}

#[test]
fn a_violation_names_board_front_and_numbers() {
    let mut plan = plan();
    blank(&mut plan, 0, 1).to = inches(44.0);
    let found = check(&job(), &plan, false, &Limits::default()).unwrap_err();
    assert_eq!(
        found[0].to_string(),
        "sizes: board A copy 1, front D2: blank 20.875 long, 21 needed"
    );
}

mod boards {
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
}

mod fronts {
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
}

mod cuts {
    use super::*;

    #[test]
    fn a_section_in_the_end_trim_is_caught() {
        let rules = changed(|job, _| job.settings.allowances.end_trim = inches(2.25));
        assert!(rules.contains(&Rule::Cuts), "{rules:?}");
    }

    #[test]
    fn a_crooked_section_needs_more_of_its_edges() {
        // Strip 0.125 to 5.8125 of a board 6 wide: 0.0625 to spare. The section is 19 of 48
        // long, so that a crook of 0.9 takes 0.9 (19/48)^2 / 2 = 0.0705 off either edge.
        let crooked = |crook| {
            changed(|job, plan| {
                job.boards[2].crook = inches(crook);
                for planned in &mut plan.boards[2..] {
                    let strip = &mut planned.sections[0].strips[0];
                    (strip.low, strip.high) = (inches(0.1875), inches(5.875));
                    (strip.blanks[0].low, strip.blanks[0].high) = (strip.low, strip.high);
                }
                job.settings.allowances.edge_trim = inches(0.11);
            })
        };
        assert_eq!(crooked(0.0), GOOD);
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
    fn a_blank_may_be_narrower_than_its_strip() {
        let rules = spoiled(|plan| plan.boards[0].sections[0].strips[0].high = inches(7.0));
        assert_eq!(rules, GOOD);
    }
}

mod sizes {
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
}

mod defects {
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
}

mod stretches {
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
            job.fronts[5].width = inches(11.0);
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
}

mod thickness {
    use super::*;

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
        assert_eq!(with_section_to(26.0), GOOD);
        assert_eq!(with_section_to(25.9375), [Rule::Thickness]);
    }
}

mod kept {
    use super::*;

    #[test]
    fn a_kept_piece_too_long_too_short_or_invented_is_caught() {
        assert_eq!(
            spoiled(|plan| plan.boards[0].kept[0].from = inches(44.125)),
            [Rule::Kept]
        );
        assert_eq!(
            spoiled(|plan| plan.boards[0].kept[0].to = inches(93.0)),
            [Rule::Kept]
        );
        assert_eq!(spoiled(|plan| plan.boards[0].kept.clear()), [Rule::Kept]);
        let doubled = spoiled(|plan| {
            let again = plan.boards[0].kept[0];
            plan.boards[0].kept.push(again);
        });
        assert_eq!(doubled, [Rule::Kept]);
    }

    #[test]
    fn a_piece_below_the_least_is_not_kept() {
        // Board C keeps 24.875 by 6.
        let keep = |long, wide| {
            changed(|job, _| {
                job.settings.allowances.keep_offcut = Some(inches(long));
                job.settings.allowances.keep_width = inches(wide);
            })
        };
        assert_eq!(keep(24.875, 6.0), GOOD);
        assert_eq!(keep(25.0, 6.0), [Rule::Kept]);
        assert_eq!(keep(24.0, 6.25), [Rule::Kept]);
        assert_eq!(
            changed(|job, _| job.settings.allowances.keep_offcut = None),
            [Rule::Kept]
        );
    }

    #[test]
    fn a_wide_edge_is_kept() {
        let with_edge = |kept: bool| {
            changed(|job, plan| {
                job.boards[0].width = inches(10.75);
                plan.boards[0].kept[0].high = inches(10.75);
                if kept {
                    let edge = crate::plan::Kept {
                        from: inches(2.0),
                        to: inches(44.125),
                        low: inches(6.5),
                        high: inches(10.75),
                    };
                    plan.boards[0].kept.push(edge);
                }
            })
        };
        assert_eq!(with_edge(true), GOOD);
        assert_eq!(with_edge(false), [Rule::Kept]);
    }
}

mod figures {
    use super::*;

    #[test]
    fn every_figure_is_counted_again() {
        let spoil: [fn(&mut Plan); 14] = [
            |plan| plan.totals.fronts += 1,
            |plan| plan.totals.made -= 1,
            |plan| plan.totals.boards_used += 1,
            |plan| plan.totals.feet_used = BoardFeet::new(3.0),
            |plan| plan.totals.feet_fronts = BoardFeet::new(3.0),
            |plan| plan.totals.feet_kept = BoardFeet::new(3.0),
            |plan| plan.totals.yield_share += 0.01,
            |plan| plan.totals.breaks += 1,
            |plan| plan.totals.glue_lines += 1,
            |plan| plan.totals.tone_run += 0.5,
            |plan| plan.totals.tone_case -= 0.5,
            |plan| plan.totals.gap = 0.0,
            |plan| plan.totals.proved = true,
            |plan| plan.totals.bound = plan.totals.cost + 0.1,
        ];
        for (index, spoil) in spoil.into_iter().enumerate() {
            let mut plan = plan();
            spoil(&mut plan);
            assert_eq!(broken(&job(), &plan), [Rule::Totals], "figure {index}");
        }
        let mut plan = plan();
        plan.totals.cost += 0.01;
        assert_eq!(broken(&job(), &plan), [Rule::Totals]);
    }

    #[test]
    fn the_figures_of_the_example_are_those_worked_out_by_hand() {
        let totals = plan().totals;
        // A 96x8 less 49.75x8; B 60x6.5 less 35.75x6.5; C twice, 48x6x1.25 less 24.875x6x1.25.
        let used = (46.25 * 8.0 + 24.25 * 6.5 + 2.0 * 23.125 * 6.0 * 1.25) / 144.0;
        assert!((totals.feet_used.value() - used).abs() < 1e-12);
        let fronts = (2.0 * 20.0 * 6.0 + (10.0 + 8.0) * 5.0 + 18.0 * 11.0 * 1.25) / 144.0;
        assert!((totals.feet_fronts.value() - fronts).abs() < 1e-12);
        assert_eq!((totals.breaks, totals.glue_lines), (0, 1));
        assert_eq!((totals.tone_run, totals.tone_case), (0.0, 2.0));
        // One glue line at 2, two tone steps over the case at 0.5.
        assert!((totals.cost - (used + 2.0 + 1.0)).abs() < 1e-12);
    }

    #[test]
    fn money_counts_offered_boards_whole_and_owned_ones_by_what_is_used() {
        let mut job = job();
        job.settings.worth.owned = 4.0;
        let mut plan = plan();
        plan.totals.bound = 0.0;
        plan.totals = crate::plan::totals(&job, &plan, true);
        let money = plan.totals.money.expect("money");
        // Two copies of C at 48 x 6 x 1.25 / 144 = 2.5 feet and 9 a foot.
        assert!((money.buy - 45.0).abs() < 1e-12);
        let owned = 4.0 * (46.25 * 8.0 + 24.25 * 6.5) / 144.0;
        assert!((money.owned - owned).abs() < 1e-12);
        assert!((money.mean_price - 9.0).abs() < 1e-12);
        assert!((plan.totals.cost - (45.0 + owned + 9.0 * 3.0)).abs() < 1e-12);
        assert_eq!(check(&job, &plan, true, &Limits::default()), Ok(()));
        assert!(check(&job, &plan, false, &Limits::default()).is_err());
    }

    #[test]
    fn limits_are_kept_to() {
        let within = |limits| check(&job(), &plan(), false, &limits).is_ok();
        let feet = |most| Limits {
            most_feet: Some(BoardFeet::new(most)),
            ..Limits::default()
        };
        let tone = |within| Limits {
            tone_within: Some(within),
            ..Limits::default()
        };
        assert!(within(feet(6.1)) && !within(feet(6.0)));
        assert!(within(tone(2.0)) && !within(tone(1.5)));
        let breaks = Limits {
            most_breaks: Some(0),
            ..Limits::default()
        };
        assert!(within(breaks));
        // The top run as two stretches has one break.
        let mut plan = plan();
        blank(&mut plan, 0, 1).stretch = 2;
        retotal(&mut plan, &job());
        assert_eq!(plan.totals.breaks, 1);
        let found = check(&job(), &plan, false, &breaks).unwrap_err();
        assert_eq!(found[0].rule, Rule::Limits);
    }
}

/// Every length in the plan that says where a cut goes, one by one.
fn coordinate(plan: &mut Plan, which: usize) -> Option<(&mut Length, bool)> {
    let mut all: Vec<(&mut Length, bool)> = Vec::new();
    for planned in &mut plan.boards {
        for kept in &mut planned.kept {
            let sides = [&mut kept.from, &mut kept.to, &mut kept.low, &mut kept.high];
            all.extend(sides.map(|side| (side, false)));
        }
        for section in &mut planned.sections {
            all.extend([&mut section.from, &mut section.to].map(|side| (side, false)));
            for strip in &mut section.strips {
                all.push((&mut strip.low, false));
                all.push((&mut strip.high, true));
                for blank in &mut strip.blanks {
                    let sides = [
                        &mut blank.from,
                        &mut blank.to,
                        &mut blank.low,
                        &mut blank.high,
                    ];
                    all.extend(sides.map(|side| (side, false)));
                }
            }
        }
    }
    all.into_iter().nth(which)
}

proptest! {
    /// The plan is as tight as can be: moving any one coordinate, either way, breaks a rule. The
    /// one exception is a strip's far edge, which may move on into waste as far as the trim.
    #[test]
    fn moving_any_one_cut_is_caught(which in 0usize..52, thousandths in -3000i64..3000) {
        prop_assume!(thousandths != 0);
        let delta = inches(thousandths as f64 / 1000.0);
        let mut moved = plan();
        let (at, is_far_edge) = coordinate(&mut moved, which).expect("52 coordinates");
        *at += delta;
        let now = *at;
        retotal(&mut moved, &job());
        let board_of = |which: usize| match which { 0..=15 => 8.0, 16..=31 => 6.5, _ => 6.0 };
        let harmless = is_far_edge
            && delta > Length::ZERO
            && now <= inches(board_of(which) - 0.125);
        prop_assert_eq!(broken(&job(), &moved).is_empty(), harmless);
    }
}
