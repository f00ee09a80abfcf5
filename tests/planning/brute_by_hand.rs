//! Tiny jobs whose best plan can be worked out on paper, given to the exhaustive
//! solver and to the optimiser.

use crate::common::brute::solve;
use grainrow::job::{Allowances, Between, Board, Defect, DefectKind, DefectSide, Front, Glue};
use grainrow::job::{Job, Run, Settings, Worth};
use grainrow::layout::{self, Request};
use grainrow::measure::{Length, Tone};
use grainrow::plan::Plan;

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

/// Kerfs of an inch, nothing trimmed, no rough allowance, ends and edges kept from 9 by 4 up.
fn settings() -> Settings {
    Settings {
        allowances: Allowances {
            crosscut_kerf: inches(1.0),
            rip_kerf: inches(1.0),
            end_trim: Length::ZERO,
            edge_trim: Length::ZERO,
            rough_length: Length::ZERO,
            rough_width: Length::ZERO,
            plane: Length::ZERO,
            clear: Length::ZERO,
            longest_skip: inches(2.0),
            shortest_safe: Length::ZERO,
            keep_offcut: Some(inches(9.0)),
            keep_width: inches(4.0),
            between: Between::Tight,
        },
        worth: Worth {
            unbroken: 1.0,
            tone_run: 0.1,
            tone_case: 0.01,
            glue_line: 0.25,
            owned: 0.0,
            ..Worth::default()
        },
        glue: Glue {
            from: Length::ZERO,
            step: Length::from_inches(0.125),
            allow: true,
            least_stave: inches(2.0),
            joint: Length::ZERO,
        },
        ..Settings::default()
    }
}

fn board(id: &str, length: f64, width: f64) -> Board {
    Board {
        id: id.to_owned(),
        copies: vec![1],
        length: inches(length),
        width: inches(width),
        thickness: inches(1.0),
        ..Board::default()
    }
}

/// One run of fronts, all equally high.
fn job(boards: Vec<Board>, widths: &[f64], height: f64) -> Job {
    let front = |(index, &width): (usize, &f64)| Front {
        name: format!("F{}", index + 1),
        width: inches(width),
        height: inches(height),
        thickness: inches(0.75),
        ..Front::default()
    };
    Job {
        settings: settings(),
        boards,
        fronts: widths.iter().enumerate().map(front).collect(),
        runs: vec![Run {
            name: "run".to_owned(),
            fronts: (0..widths.len()).collect(),
        }],
        ..Job::default()
    }
}

/// The cost in square inches of inch-thick wood.
fn cost(plan: &Plan) -> f64 {
    plan.totals.cost * 144.0
}

/// Both the exhaustive solver and the optimiser plan the job for so much.
fn assert_cost(job: &Job, expected: f64) {
    let best = layout::plan(job, &Request::default(), &layout::Silent);
    assert!(best.totals.proved, "{:?}", best.totals);
    for plan in [solve(job, false), best] {
        assert!(
            (cost(&plan) - expected).abs() < 1e-6,
            "{} {:?}",
            cost(&plan),
            plan.boards
        );
    }
}

#[test]
fn the_rest_of_a_board_is_kept_less_a_kerf() {
    // 20 x 4, a front of 5: kept 14, used 6 x 4.
    assert_cost(&job(vec![board("A", 20.0, 4.0)], &[5.0], 4.0), 24.0);
}

#[test]
fn a_front_at_either_end_keeps_one_long_piece_not_two_short_ones() {
    // 20 x 4, a front of 5 with a knot over 0 to 4: from 4 to 9, kept 10 to 20. At the far end
    // instead: from 15, kept 0 to 14.
    let mut knotty = board("A", 20.0, 4.0);
    knotty.defects = vec![Defect {
        kind: DefectKind::Knot,
        from: inches(0.0),
        to: inches(4.0),
        low: inches(0.0),
        high: inches(1.0),
        side: DefectSide::Both,
        notes: String::new(),
    }];
    assert_cost(&job(vec![knotty], &[5.0], 4.0), 24.0);
}

#[test]
fn a_section_is_cut_longer_when_its_edge_is_worth_more_than_its_end() {
    // 20 x 8, a front of 14 x 3. The end left, 5, is too short to keep. The edge left is 4 wide:
    // 14 long, or 20 when the whole board is one section. Used 160 - 80.
    assert_cost(&job(vec![board("A", 20.0, 8.0)], &[14.0], 3.0), 80.0);
}

#[test]
fn a_break_is_bought_when_a_long_board_costs_more() {
    // Two fronts of 8 x 4: one stretch from the board of 17, all of it used, or one each from the
    // two of 8 at the cost of a break.
    let boards = |width: f64| {
        vec![
            board("L", 17.0, width),
            board("S", 8.0, 4.0),
            board("T", 8.0, 4.0),
        ]
    };
    let mut cheap_break = job(boards(8.0), &[8.0, 8.0], 4.0);
    cheap_break.settings.allowances.keep_offcut = None;
    cheap_break.settings.worth.unbroken = 0.5;
    // 17 x 8 = 136 against 64 and half a foot, 72: equal.
    assert_cost(&cheap_break, 136.0);
    cheap_break.settings.worth.unbroken = 0.25;
    assert_cost(&cheap_break, 64.0 + 36.0);
}

#[test]
fn a_stretch_skips_a_knot_no_wider_than_the_longest_skip() {
    // 20 x 4, fronts of 8 and 8, a knot over 9 to 11: 1 to 9 and 11 to 19, a gap of 2.
    let mut knotty = board("A", 20.0, 4.0);
    knotty.defects = vec![Defect {
        kind: DefectKind::Knot,
        from: inches(9.0),
        to: inches(11.0),
        low: inches(1.0),
        high: inches(2.0),
        side: DefectSide::Both,
        notes: String::new(),
    }];
    let mut job = job(vec![knotty], &[8.0, 8.0], 4.0);
    assert_cost(&job, 80.0);
    job.settings.allowances.longest_skip = inches(1.0);
    assert_cost(&job, 80.0 + 144.0);
    // On one side only it is turned away.
    job.boards[0].defects[0].side = DefectSide::Up;
    assert_cost(&job, 80.0);
}

#[test]
fn tone_costs_within_a_run_and_over_the_case() {
    let mut dark = board("D", 8.0, 4.0);
    dark.tone = Tone::new(5.0).expect("a tone");
    let mut pale = board("P", 8.0, 4.0);
    pale.tone = Tone::new(3.0).expect("a tone");
    // Two boards, a break at 144, two steps at 14.4 in the run and at 1.44 over the case.
    assert_cost(
        &job(vec![dark, pale], &[8.0, 8.0], 4.0),
        64.0 + 144.0 + 28.8 + 2.88,
    );
}

#[test]
fn a_front_too_wide_for_the_board_is_glued() {
    // 8 x 7 from a board 17 x 4: staves of 4 and 3 one after another, all of the board used.
    let mut job = job(vec![board("A", 17.0, 4.0)], &[8.0], 7.0);
    job.fronts[0].glue = true;
    assert_cost(&job, 68.0 + 36.0);
    job.fronts[0].glue = false;
    assert_eq!(solve(&job, false).totals.made, 0);
}

#[test]
fn a_stave_is_no_wider_than_its_sisters_need() {
    // 9 x 10 from boards 9 x 7 and 9 x 9: a stave as wide as the first board, and one of 3 from the
    // second, with 5 to keep beside it.
    let boards = vec![board("A", 9.0, 7.0), board("B", 9.0, 9.0)];
    let mut job = job(boards, &[9.0], 10.0);
    job.fronts[0].glue = true;
    assert_cost(&job, 63.0 + 81.0 - 45.0 + 36.0);
    // With the first 6 wide the other stave leaves just 4.
    job.boards[0].width = inches(6.0);
    assert_cost(&job, 54.0 + 81.0 - 36.0 + 36.0);
}

/// Each front a run of its own: how long it is along the grain, how wide across, whether glued.
fn singles(boards: Vec<Board>, fronts: &[(f64, f64, bool)]) -> Job {
    let mut job = job(boards, &vec![1.0; fronts.len()], 1.0);
    for (front, &(long, wide, glue)) in job.fronts.iter_mut().zip(fronts) {
        (front.width, front.height) = (inches(long), inches(wide));
        front.glue = glue;
    }
    let run = |index: usize| Run {
        name: format!("run {index}"),
        fronts: vec![index],
    };
    job.runs = (0..fronts.len()).map(run).collect();
    job
}

#[test]
fn sisters_share_the_width_so_that_most_is_kept() {
    // 9 x 12 glued and 9 x 4, from boards 9 x 11.5 and 9 x 11.75. The narrow front and a stave of
    // 6.75 take up the wider board, so the other stave is 5.25 and leaves as much beside it.
    let boards = vec![board("A", 9.0, 11.5), board("B", 9.0, 11.75)];
    let job = singles(boards, &[(9.0, 12.0, true), (9.0, 4.0, false)]);
    let best = layout::plan(&job, &Request::default(), &layout::Silent);
    let expected = 9.0 * (11.5 + 11.75 - 5.25) + 36.0;
    assert!((cost(&best) - expected).abs() < 1e-6, "{}", cost(&best));
}

#[test]
fn a_stave_is_narrower_than_the_strip_it_shares_with_another_front() {
    // 20 x 11 in two strips: 19 x 4 along one edge; beside it a piece of 9 x 6 and a stave, which a
    // knot at the other edge leaves 4 of. With the 6 of that piece, or of the other board, the stave
    // makes 9 x 10.
    let mut wide = board("A", 20.0, 11.0);
    wide.defects = vec![Defect {
        kind: DefectKind::Knot,
        from: inches(12.0),
        to: inches(14.0),
        low: inches(0.0),
        high: inches(2.0),
        side: DefectSide::Both,
        notes: String::new(),
    }];
    let boards = vec![wide, board("B", 9.0, 6.0)];
    let fronts = [(19.0, 4.0, false), (9.0, 6.0, false), (9.0, 10.0, true)];
    let best = layout::plan(
        &singles(boards, &fronts),
        &Request::default(),
        &layout::Silent,
    );
    assert_eq!(best.totals.made, 3);
    assert!(best.totals.proved);
    assert!((cost(&best) - (220.0 + 54.0 + 36.0)).abs() < 1e-6);
}

#[test]
fn a_bowed_board_yields_short_fronts_only() {
    // Bow 1 over 16: a piece of 8 loses 1/4 and leaves just 3/4, one of 9 loses 0.316.
    let bowed = || Board {
        bow: inches(1.0),
        ..board("A", 16.0, 4.0)
    };
    assert_eq!(
        solve(&job(vec![bowed()], &[8.0], 4.0), false).totals.made,
        1
    );
    assert_eq!(
        solve(&job(vec![bowed()], &[9.0], 4.0), false).totals.made,
        0
    );
    // Two of 4 are milled together when nothing under 6 is safe, and lose (9/16)^2.
    let mut pair = job(vec![bowed()], &[4.0, 4.0], 4.0);
    assert_eq!(solve(&pair, false).totals.breaks, 0);
    pair.settings.allowances.shortest_safe = inches(6.0);
    assert_eq!(solve(&pair, false).totals.breaks, 1);
}
