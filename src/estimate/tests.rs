use super::*;
use crate::job::{Front, Grade, Mix, OnSale, Run, Settings, Span, Yard};
use crate::measure::Length;

pub(super) fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

fn flat() -> Span<Length> {
    Span::default()
}

/// A yard of flat, clear 4/4 boards 6 in wide.
pub(super) fn plain_yard(length: Mix<Length>) -> Yard {
    Yard {
        thickness: vec![OnSale {
            thickness: inches(1.0),
            price: Some(2.0),
        }],
        length,
        width: Mix::of(inches(6.0), inches(6.0)),
        grade: Grade::Clear,
        bow: flat(),
        cup: flat(),
        twist: flat(),
        crook: flat(),
        ..Yard::default()
    }
}

fn front(name: &str, width: f64) -> Front {
    Front {
        name: name.to_owned(),
        width: inches(width),
        height: inches(5.0),
        thickness: inches(0.75),
        ..Front::default()
    }
}

pub(super) fn job(yard: Yard, runs: &[&[f64]]) -> Job {
    let mut job = Job {
        settings: Settings {
            yard,
            ..Settings::default()
        },
        ..Job::default()
    };
    for (number, widths) in runs.iter().enumerate() {
        let first = job.fronts.len();
        let named = |(i, &width): (usize, &f64)| front(&format!("r{number}.{i}"), width);
        job.fronts.extend(widths.iter().enumerate().map(named));
        job.runs.push(Run {
            name: format!("r{number}"),
            fronts: (first..job.fronts.len()).collect(),
        });
    }
    job
}

fn values(told: &[Percentile]) -> Vec<f64> {
    told.iter().map(|p| p.value.unwrap()).collect()
}

#[test]
fn one_front_a_board_and_boards_of_one_size_is_a_multiplication() {
    let yard = plain_yard(Mix::of(inches(48.0), inches(48.0)));
    let job = job(yard, &[&[40.0_f64][..]; 7]);
    let estimate = estimate(&job, &Ask::default(), &Silent).unwrap();
    // 4 ft by 6 in: surface measure 2; seven of them.
    assert_eq!(values(&estimate.all.feet), [14.0; 4]);
    assert_eq!(values(estimate.all.money.as_ref().unwrap()), [28.0; 4]);
    assert_eq!(estimate.lots[0].boards, 7);
    for told in &estimate.all.feet {
        assert_eq!((told.low, told.high), (Some(14.0), Some(14.0)));
    }
    // Every interval is narrow at once, so the trials stop early.
    assert_eq!(estimate.trials, LEAST_TRIALS);
    assert_eq!(estimate.endless, 0);
}

/// A run of two fronts of which an 8 ft board takes both and a 4 ft board one; two boards of
/// three are 8 ft long.
///
/// By hand: unbroken it takes the first long board. Before it come k short ones with chance
/// 2/3 (1/3)^k; short boards tally 2 ft, long ones 4. So P(feet <= 4) = 2/3, <= 6: 8/9,
/// <= 8: 26/27. With one break a second short board ends it: 4 ft with 2/3 + 1/9, else 6.
fn toy() -> Job {
    let only = |length| Span {
        least: inches(length),
        most: inches(length),
    };
    let lengths = Mix {
        parts: vec![(only(48.0), 1.0), (only(96.0), 2.0)],
    };
    job(plain_yard(lengths), &[&[40.0, 40.0]])
}

#[test]
fn percentiles_are_those_of_the_distribution_worked_out_by_hand() {
    let ask = Ask {
        trials: 1000,
        have: vec![
            Purchase {
                feet: 6.0,
                thickness: None,
            },
            Purchase {
                feet: 4.5,
                thickness: Some(inches(1.0)),
            },
        ],
        ..Ask::default()
    };
    let estimate = estimate(&toy(), &ask, &Silent).unwrap();
    assert_eq!(values(&estimate.all.feet), [4.0, 6.0, 8.0, 8.0]);
    let near = |value: f64, exact: f64, deviation: f64| {
        // Four standard deviations.
        (value - exact).abs() <= 4.0 * deviation / (estimate.trials as f64).sqrt()
    };
    let chances: Vec<f64> = estimate.have.iter().map(|h| h.chance.share).collect();
    assert!(
        near(chances[0], 8.0 / 9.0, (8.0_f64 / 81.0).sqrt()),
        "{chances:?}"
    );
    assert!(
        near(chances[1], 2.0 / 3.0, (2.0_f64 / 9.0).sqrt()),
        "{chances:?}"
    );
    // Mean 5 ft unbroken, 40/9 with a break; the saving's deviation is below 2 ft.
    assert!(near(estimate.savings[0].saved, 5.0 - 40.0 / 9.0, 2.0));
    assert_eq!(estimate.savings[0].feet[0].value, Some(4.0));
    // Two fronts have one spot between them: a second break is impossible, and not listed.
    assert_eq!(estimate.savings.len(), 1);
    assert_eq!(estimate.runs[0].drives, 1.0);
    assert_eq!(values(&estimate.runs[0].first_fit), [4.0, 6.0, 8.0, 8.0]);
}

#[test]
fn the_thumb_is_net_feet_and_a_share() {
    let estimate = estimate(&toy(), &Ask::default(), &Silent).unwrap();
    // Two fronts 40 by 5 at one inch.
    let net = 2.0 * 40.0 * 5.0 / 144.0;
    assert!((estimate.net - net).abs() < 1e-9);
    assert!((estimate.thumb[0].feet - 1.2 * net).abs() < 1e-9);
    // 3.33 and 3.61 ft never suffice: no board set is smaller than 4 ft.
    assert!(estimate.thumb.iter().all(|thumb| thumb.short.share == 1.0));
    assert!((estimate.rough - 2.0 * 41.0 * 5.25 / 144.0).abs() < 1e-9);
}

#[test]
fn a_run_longer_than_any_board_breaks_where_it_must_and_no_more() {
    let yard = plain_yard(Mix::of(inches(96.0), inches(96.0)));
    let job = job(yard, &[&[40.0, 40.0, 40.0]]);
    let estimate = estimate(&job, &small_ask(0, 0), &Silent).unwrap();
    assert_eq!(estimate.lots[0].forced_breaks, 1);
    assert_eq!(values(&estimate.all.feet), [8.0; 4]);
    assert!(!estimate.runs[0].whole);
    // 3 blanks of 41, two saw cuts, two trims.
    assert_eq!(estimate.runs[0].length, 3.0 * 41.0 + 0.25 + 4.0);
    assert_eq!(estimate.runs[0].width, 5.5);
}

fn small_ask(seed: u64, threads: usize) -> Ask {
    Ask {
        trials: 20,
        seed,
        threads,
        ..Ask::default()
    }
}

fn chest() -> Job {
    let yard = Yard {
        thickness: plain_yard(Mix::of(inches(96.0), inches(96.0))).thickness,
        ..Yard::default()
    };
    let rows: [&[f64]; 4] = [&[20.0; 3], &[31.0; 2], &[36.0], &[16.0; 4]];
    job(yard, &rows)
}

#[test]
fn equal_seeds_give_equal_answers_for_any_number_of_threads() {
    let job = chest();
    let one = estimate(&job, &small_ask(5, 1), &Silent).unwrap();
    assert_eq!(one, estimate(&job, &small_ask(5, 3), &Silent).unwrap());
    assert_ne!(one, estimate(&job, &small_ask(6, 1), &Silent).unwrap());
}

#[test]
fn another_seed_agrees_within_the_stated_intervals() {
    let job = chest();
    let [one, other] = [1, 2].map(|seed| {
        let ask = Ask {
            trials: 60,
            ..small_ask(seed, 0)
        };
        estimate(&job, &ask, &Silent).unwrap()
    });
    for (a, b) in one.all.feet.iter().zip(&other.all.feet).take(3) {
        assert!(a.low <= b.high && b.low <= a.high, "{a:?} against {b:?}");
    }
}

#[test]
fn fewer_breaks_never_need_less_wood() {
    let estimate = estimate(&chest(), &small_ask(1, 0), &Silent).unwrap();
    let mut least = values(&estimate.all.feet);
    for saving in &estimate.savings {
        let feet = values(&saving.feet);
        assert!(
            feet.iter()
                .zip(&least)
                .all(|(with, without)| with <= without)
        );
        least = feet;
    }
    assert!(estimate.net < estimate.rough && estimate.rough < least[0]);
}

#[test]
fn what_no_board_could_make_is_told_before_any_trial() {
    struct NoTrials;
    impl Watch for NoTrials {
        fn done(&self, _: usize, _: usize) {
            panic!("a trial was run");
        }
    }
    let yard = plain_yard(Mix::of(inches(48.0), inches(96.0)));
    let mut job = job(yard, &[&[40.0], &[100.0], &[30.0], &[30.0]]);
    job.fronts[2].thickness = inches(1.25);
    job.fronts[3].height = inches(9.0);
    let Err(NoEstimate::Obstacles(obstacles)) = estimate(&job, &Ask::default(), &NoTrials) else {
        panic!("an estimate of what can't be made");
    };
    let told: Vec<String> = obstacles.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(told.join("\n"), @r"
    r2.0: too thick: with the final skim off both faces it needs 1 5/16 in, and the thickest stock on sale is 1 in; add 6/4 or thicker stock to `thickness` in [yard], or plane less
    r1.0: too long: its blank takes 101 in, and every board gives at most 92 in between the end trims; the yard would have to sell a 4/4 board at least 5 1/2 in wide and 105 in long, flat and clear
    r3.0: too wide: its blank takes 9 1/4 in, and every board gives at most 5 3/4 in between the edges, and it may not be glued; the yard would have to sell a 4/4 board at least 9 1/2 in wide and 35 in long, flat and clear
    ");
}

#[test]
fn stopped_early_an_estimate_tells_what_it_left_out() {
    /// Stops after so many trials.
    struct After(usize, AtomicUsize);
    impl Watch for After {
        fn done(&self, trials: usize, _: usize) {
            self.1.fetch_max(trials, Ordering::SeqCst);
        }
        fn stop(&self) -> bool {
            self.1.load(Ordering::SeqCst) >= self.0
        }
    }
    let after = |trials| After(trials, AtomicUsize::new(0));
    let ask = small_ask(0, 2);
    let stopped = estimate(&chest(), &ask, &after(5)).unwrap();
    assert!((5..20).contains(&stopped.trials), "{}", stopped.trials);
    assert!(stopped.unfinished < 2, "{}", stopped.unfinished);
    assert_eq!(
        estimate(&chest(), &ask, &after(0)),
        Err(NoEstimate::NoTrial)
    );
}

#[test]
fn only_what_is_too_wide_for_the_yard_is_glued() {
    let mut job = job(
        plain_yard(Mix::of(inches(96.0), inches(96.0))),
        &[&[40.0], &[40.0]],
    );
    job.fronts.iter_mut().for_each(|front| front.glue = true);
    job.fronts[1].height = inches(9.0);
    let lots = lots(&job).unwrap();
    assert_eq!(
        lots[0]
            .job
            .fronts
            .iter()
            .map(|f| f.glue)
            .collect::<Vec<_>>(),
        [false, true]
    );
    let estimate = estimate(&job, &small_ask(0, 0), &Silent).unwrap();
    // A strip of 5 1/4 and two staves of 4 11/16, each 41 long: two boards 8 ft long take them.
    assert_eq!(values(&estimate.all.feet), [8.0; 4]);
}
