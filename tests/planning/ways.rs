//! Plans to choose from, against the exhaustive solver: each is best for its worths, none is
//! beaten by another, and none is missing.

use std::time::Duration;

use crate::common::brute::{area_made, solve};
use crate::common::tiny::{Tiny, tiny};
use grainrow::job::{Job, Settings, Worth};
use grainrow::layout::{Request, Silent};
use grainrow::plan::{Limits, Plan, check, mean_price, totals};
use grainrow::ways::{Figure, Nearest, Ways, nearest, ways};
use rayon::prelude::*;

/// Costs nearer than this are the same.
const SAME: f64 = 2e-6;

/// A tiny job that can be planned in several ways.
struct Case {
    name: String,
    by_money: bool,
    job: Job,
    ways: Ways,
}

fn cases() -> Vec<Case> {
    let plain = Tiny::default();
    let kinds = [
        (Tiny { boards: 3, ..plain }, 14),
        (
            Tiny {
                fronts: 4,
                boards: 3,
                defects: false,
                ..plain
            },
            4,
        ),
        (
            Tiny {
                fronts: 2,
                glue: true,
                ..plain
            },
            6,
        ),
        (
            Tiny {
                fronts: 4,
                prices: true,
                ..plain
            },
            6,
        ),
    ];
    let seeds = |(size, seeds): (Tiny, u64)| (112..112 + seeds).map(move |seed| (size, seed));
    let all: Vec<(Tiny, u64)> = kinds.into_iter().flat_map(seeds).collect();
    all.into_par_iter()
        .map(|(size, seed)| {
            let job = tiny(size, seed);
            let request = Request {
                time: Some(Duration::from_secs(60)),
                by_money: size.prices,
                ..Request::default()
            };
            Case {
                name: format!("{size:?}, seed {seed}"),
                by_money: size.prices,
                ways: ways(&job, &request, 20, &Silent),
                job,
            }
        })
        .collect()
}

/// The job at other worths.
fn at(job: &Job, worth: Worth) -> Job {
    Job {
        settings: Settings {
            worth,
            ..job.settings.clone()
        },
        ..job.clone()
    }
}

fn cost_at(case: &Case, plan: &Plan, worth: &Worth) -> f64 {
    totals(&at(&case.job, worth.clone()), plan, case.by_money).cost
}

/// Wood with glue lines, breaks, tone at the job's worths.
fn point(case: &Case, plan: &Plan) -> [f64; 3] {
    let (t, worth) = (&plan.totals, &case.job.settings.worth);
    let price = mean_price(&case.job).filter(|_| case.by_money);
    let wood = match t.money {
        Some(money) => (money.buy + money.owned) / price.unwrap(),
        None => t.feet_used.value(),
    };
    let tone = worth.tone_run * t.tone_run + worth.tone_case * t.tone_case;
    [
        wood + worth.glue_line * t.glue_lines as f64,
        t.breaks as f64,
        tone,
    ]
}

/// Worths all over the range a maker may have, and a little more.
fn many_worths(own: &Worth) -> Vec<Worth> {
    let mut worths = Vec::new();
    for unbroken in [0.01, 0.3, 3.0] {
        for times in [0.05, 2.0] {
            worths.push(Worth {
                unbroken,
                tone_run: times * own.tone_run,
                tone_case: times * own.tone_case,
                ..own.clone()
            });
        }
    }
    worths
}

#[test]
fn every_way_is_best_for_its_worths_and_none_is_missing() {
    let cases = cases();
    let found: Vec<[usize; 3]> = cases.par_iter().map(judge).collect();
    let sum = |of: usize| found.iter().map(|counts| counts[of]).sum::<usize>();
    let (several, unproved, incomplete) = (sum(0), sum(1), sum(2));
    println!(
        "{several} of {} jobs have several ways, {unproved} ways unproved, {incomplete} jobs incomplete",
        cases.len()
    );
    assert!(
        several > cases.len() / 5,
        "only {several} jobs have a choice"
    );
    assert!(unproved <= 3 && incomplete <= 3);
}

/// Whether a job has several ways; how many are not proved; whether some may be missing.
fn judge(case: &Case) -> [usize; 3] {
    let Case {
        name, job, ways, ..
    } = case;
    let own = &job.settings.worth;
    for way in &ways.ways {
        let found = check(job, &way.plan, case.by_money, &Limits::default());
        assert_eq!(found, Ok(()), "{name}");
        let best = solve(&at(job, way.best_for.clone()), case.by_money);
        let same_made = area_made(job, &best) <= area_made(job, &way.plan) + 1e-6;
        let cost = cost_at(case, &way.plan, &way.best_for);
        let met = same_made && cost <= best.totals.cost + SAME * cost.max(1.0);
        assert!(
            met || !way.proved,
            "{name}: {cost} at {:?}, best {}",
            way.best_for,
            best.totals.cost
        );
        assert!(
            way.plan.totals.bound <= solve(job, case.by_money).totals.cost + SAME,
            "{name}"
        );
    }
    let points: Vec<[f64; 3]> = ways.ways.iter().map(|way| point(case, &way.plan)).collect();
    for (i, one) in points.iter().enumerate() {
        for other in points.iter().skip(i + 1) {
            let beaten = |a: &[f64; 3], b: &[f64; 3]| (0..3).all(|k| a[k] <= b[k] + 1e-9);
            assert!(
                !beaten(one, other) && !beaten(other, one),
                "{name}: {points:?}"
            );
        }
    }
    let chosen = &ways.ways[ways.chosen];
    assert_eq!(&chosen.best_for, own, "{name}");
    let lowest = |worth: &Worth| {
        let costs = ways.ways.iter().map(|way| cost_at(case, &way.plan, worth));
        costs.fold(f64::INFINITY, f64::min)
    };
    assert!(
        cost_at(case, &chosen.plan, own) <= lowest(own) + 1e-9,
        "{name}"
    );
    // A job that sets no worth on tones is weighed at the default ones.
    if ways.complete && own.tone_run + own.tone_case > 0.0 {
        for worth in many_worths(own) {
            let best = solve(&at(job, worth.clone()), case.by_money).totals.cost;
            let least = lowest(&worth);
            assert!(
                (best - least).abs() <= SAME * best.max(1.0),
                "{name}: a way for {worth:?} is missing: {best}, not {least}"
            );
        }
    }
    let unproved = ways.ways.iter().filter(|way| !way.proved).count();
    [
        usize::from(points.len() > 1),
        unproved,
        usize::from(!ways.complete),
    ]
}

#[test]
fn the_nearest_to_a_limit_is_the_least_there_is() {
    let mut over = 0;
    for seed in 0..12 {
        let job = tiny(
            Tiny {
                boards: 3,
                ..Tiny::default()
            },
            seed,
        );
        let nothing = Worth {
            unbroken: 0.0,
            tone_run: 0.0,
            tone_case: 0.0,
            glue_line: 0.0,
            ..job.settings.worth.clone()
        };
        let dear = 1e4;
        let least = |worth| solve(&at(&job, worth), false).totals;
        let feet = least(nothing.clone()).feet_used.value();
        let breaks = least(Worth {
            unbroken: dear,
            ..nothing.clone()
        })
        .breaks as f64;
        let tone = least(Worth {
            tone_case: dear,
            ..nothing
        })
        .tone_case;
        let request = |limits| Request {
            time: Some(Duration::from_secs(20)),
            limits,
            ..Request::default()
        };
        let tight = [
            (
                Figure::Feet,
                feet,
                Limits {
                    most_feet: Some(grainrow::measure::Volume::new(feet - 0.01)),
                    ..Limits::default()
                },
            ),
            (
                Figure::Breaks,
                breaks,
                Limits {
                    most_breaks: (breaks as usize).checked_sub(1),
                    ..Limits::default()
                },
            ),
            (
                Figure::Tone,
                tone,
                Limits {
                    tone_within: (tone > 0.0).then_some(tone - 0.25),
                    ..Limits::default()
                },
            ),
        ];
        for (figure, least, limits) in tight {
            if limits == Limits::default() {
                continue;
            }
            let request = request(limits);
            let plan = grainrow::layout::plan(&job, &request, &Silent);
            let told: Vec<Nearest> = nearest(&job, &request, &plan, request.time, &Silent);
            assert_eq!(told.len(), 1, "seed {seed}, {figure:?}");
            assert!(told[0].over && told[0].figure == figure);
            assert!(
                told[0].at_least <= least + 1e-4,
                "seed {seed}: {told:?}, really {least}"
            );
            assert!(
                told[0].found >= least - 1e-4,
                "seed {seed}: {told:?}, really {least}"
            );
            assert!(
                !told[0].proved() || (told[0].found - least).abs() < 5e-3,
                "seed {seed}"
            );
            over += usize::from(told[0].proved());
        }
    }
    assert!(over >= 12, "only {over} proved");
}
