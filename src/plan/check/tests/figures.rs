//! Rule 8 and the cost: every figure, and the limits.

use super::*;

#[test]
fn every_figure_is_counted_again() {
    let spoil: [fn(&mut Plan); 14] = [
        |plan| plan.totals.fronts += 1,
        |plan| plan.totals.made -= 1,
        |plan| plan.totals.boards_used += 1,
        |plan| plan.totals.feet_used = Volume::new(3.0),
        |plan| plan.totals.feet_fronts = Volume::new(3.0),
        |plan| plan.totals.feet_kept = Volume::new(3.0),
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
        most_feet: Some(Volume::new(most)),
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

#[test]
fn logs_and_ways_of_sawing_beyond_the_first_are_counted_for_each_run() {
    use crate::job::Cut;
    let (mut job, mut plan) = (job(), plan());
    // Both staves of one front come from copies of C; a kind of its own for the second has another log.
    let second = crate::job::Board {
        copies: vec![2],
        log: Some("L2".to_owned()),
        cut: Some(Cut::Rift),
        ..job.boards[2].clone()
    };
    job.boards[2].copies = vec![1];
    job.boards[2].log = Some("L1".to_owned());
    job.boards.push(second);
    let last = plan.boards.len() - 1;
    plan.boards[last].board = 3;
    retotal(&mut plan, &job);
    assert_eq!((plan.totals.mixed_logs, plan.totals.mixed_cuts), (1, 0));
    assert_eq!(broken(&job, &plan), GOOD);
    let before = plan.totals.cost;
    // Flat beside rift is one more way of sawing; the worths are 0.5 and 1 board foot.
    job.boards[2].cut = Some(Cut::Flat);
    retotal(&mut plan, &job);
    assert_eq!((plan.totals.mixed_logs, plan.totals.mixed_cuts), (1, 1));
    assert!((plan.totals.cost - before - 1.0).abs() < 1e-12);
    plan.totals.mixed_cuts = 0;
    assert_eq!(broken(&job, &plan), [Rule::Totals]);
}
