//! The optimiser against the exhaustive solver, and both against the checker.

use std::sync::LazyLock;
use std::time::Duration;

use crate::common::brute::{area_made, solve};
use crate::common::tiny::{Tiny, tiny};
use grainrow::job::Job;
use grainrow::layout::{self, Request};
use grainrow::plan::{Limits, Plan, check, to_json};
use rayon::prelude::*;

/// A tiny job and the best plan there is.
struct Case {
    name: String,
    by_money: bool,
    job: Job,
    best: Plan,
}

/// Every kind of tiny job, and how many seeds of it are tried.
fn kinds() -> [(Tiny, u64); 6] {
    let plain = Tiny::default();
    [
        (plain, 80),
        (
            Tiny {
                fronts: 4,
                boards: 3,
                defects: false,
                ..plain
            },
            60,
        ),
        (
            Tiny {
                fronts: 2,
                glue: true,
                ..plain
            },
            80,
        ),
        (
            Tiny {
                fronts: 3,
                boards: 3,
                glue: true,
                defects: false,
                ..plain
            },
            17,
        ),
        (
            Tiny {
                fronts: 4,
                prices: true,
                ..plain
            },
            40,
        ),
        (
            Tiny {
                fronts: 5,
                warp: false,
                ..plain
            },
            10,
        ),
    ]
}

/// All cases, solved once for all tests.
static CASES: LazyLock<Vec<Case>> = LazyLock::new(|| {
    let seeds = |(size, seeds): (Tiny, u64)| (0..seeds).map(move |seed| (size, seed));
    let all: Vec<(Tiny, u64)> = kinds().into_iter().flat_map(seeds).collect();
    let case = |(size, seed): (Tiny, u64)| {
        let job = tiny(size, seed);
        Case {
            name: format!("{size:?}, seed {seed}"),
            by_money: size.prices,
            best: solve(&job, size.prices),
            job,
        }
    };
    all.into_par_iter().map(case).collect()
});

/// Two readings of the rules that share no code agree on what a plan may be.
#[test]
fn exhaustive_plans_pass_the_checker() {
    for case in CASES.iter() {
        let found = check(&case.job, &case.best, case.by_money, &Limits::default());
        // The exhaustive solver lays cuts anywhere, also where no maker would mark them (rule 10).
        let mut found = found.err().unwrap_or_default();
        found.retain(|violation| !violation.is_note());
        assert_eq!(found, [], "{}", case.name);
    }
    let made: usize = CASES.iter().map(|case| case.best.totals.made).sum();
    assert!(made > 600, "only {made} fronts made in all these jobs");
}

/// No plan is better than the best there is: not the heuristic's either.
#[test]
fn quick_plans_pass_the_checker_and_never_beat_the_best() {
    let cases: Vec<&Case> = CASES.iter().filter(|case| !case.by_money).collect();
    let met = |case: &&&Case| {
        let quick = layout::quick(&case.job, 1);
        let found = check(&case.job, &quick, false, &Limits::default());
        assert_eq!(found, Ok(()), "{}", case.name);
        is_best(case, &quick, false)
    };
    let count = cases.iter().filter(met).count();
    println!(
        "the heuristic met the best of {count} in {} jobs",
        cases.len()
    );
    assert!(
        count > cases.len() / 2,
        "met only {count} of {}",
        cases.len()
    );
}

/// Within the time given every tiny job is planned as well as can be, and proved to be.
#[test]
fn the_optimiser_finds_and_proves_the_best_there_is() {
    let request = |by_money| Request {
        time: Some(Duration::from_secs(20)),
        by_money,
        ..Request::default()
    };
    let planned: Vec<Plan> = CASES
        .iter()
        .map(|case| layout::plan(&case.job, &request(case.by_money), &layout::Silent))
        .collect();
    let mut missed = 0;
    for (case, plan) in CASES.iter().zip(&planned) {
        let found = check(&case.job, plan, case.by_money, &Limits::default());
        assert_eq!(found, Ok(()), "{}", case.name);
        let (bound, least) = (plan.totals.bound, case.best.totals.cost);
        let same_fronts = area_made(&case.job, plan) > area_made(&case.job, &case.best) - 1e-6;
        assert!(
            !same_fronts || bound <= least + 1e-6 * least.max(1.0),
            "{}: bound {bound} is above the best, {least}",
            case.name
        );
        let found = is_best(case, plan, true) && plan.totals.proved;
        if !found {
            println!(
                "{}: cost {}, bound {}",
                case.name, plan.totals.cost, plan.totals.bound
            );
        }
        missed += usize::from(!found);
    }
    assert_eq!(missed, 0, "of {} jobs", planned.len());
}

/// Whether a plan is as good as the best; fails when it claims to be better.
fn is_best(case: &Case, plan: &Plan, tell: bool) -> bool {
    let (area, most) = (area_made(&case.job, plan), area_made(&case.job, &case.best));
    let (cost, least) = (plan.totals.cost, case.best.totals.cost);
    let beaten = area > most + 1e-6 || (area > most - 1e-6 && cost < least - 1e-6);
    assert!(
        !beaten,
        "{}: makes {area} for {cost}, the best {most} for {least}\n{}",
        case.name,
        to_json(&case.job, plan)
    );
    let met = area > most - 1e-6 && cost < least + 1e-6;
    if tell && !met {
        println!(
            "{}: makes {area} for {cost}, the best {most} for {least}",
            case.name
        );
    }
    met
}
