//! Recuts of tiny jobs against trying everything: the same cost, moves counted, and the same area.

use crate::common::brute::begun::{Begun, Best, solve as best_recut};
use crate::common::brute::{STEP, area_made, solve};
use crate::common::tiny::{Tiny, tiny};
use grainrow::job::{Defect, DefectKind, DefectSide, Done, Finished, FrontDone, Job};
use grainrow::layout::{Request, Silent};
use grainrow::measure::Length;
use grainrow::plan::{Plan, Sawn, check_recut, to_json_sawn};
use grainrow::recut::{Last, Recut, begun, recut};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use rayon::prelude::*;

/// A job after something has happened to it.
struct Case {
    name: String,
    job: Job,
    last: Plan,
    sawn: Sawn,
}

/// Every kind of tiny job, and how many seeds of it are tried. Crooked boards are left out: where
/// strips may lie beside others on them is not a matter of whole inches.
fn kinds() -> [(Tiny, u64); 4] {
    let plain = Tiny::default();
    [
        (plain, 60),
        (
            Tiny {
                fronts: 4,
                boards: 3,
                ..plain
            },
            40,
        ),
        (
            Tiny {
                fronts: 2,
                boards: 3,
                glue: true,
                ..plain
            },
            40,
        ),
        (
            Tiny {
                fronts: 5,
                boards: 3,
                defects: false,
                warp: false,
                ..plain
            },
            12,
        ),
    ]
}

fn cases() -> Vec<Case> {
    let seeds = |(size, seeds): (Tiny, u64)| (0..seeds).map(move |seed| (size, seed));
    let all: Vec<(Tiny, u64)> = kinds().into_iter().flat_map(seeds).collect();
    all.into_par_iter()
        .filter_map(|(size, seed)| case(size, seed))
        .collect()
}

fn case(size: Tiny, seed: u64) -> Option<Case> {
    let mut job = tiny(size, seed);
    if job.boards.iter().any(|board| board.crook != Length::ZERO) {
        return None;
    }
    let mut dice = Pcg64::seed_from_u64(seed);
    job.settings.worth.moved = f64::from(dice.random_range(0..=40)) / 100.0;
    let last = solve(&job, false);
    let done = happen(&mut dice, &mut job, &last);
    let sawn = begun(&job, &last, &Sawn::default(), &done).unwrap();
    Some(Case {
        name: format!("{size:?}, seed {seed}"),
        job,
        last,
        sawn,
    })
}

/// Cuts some fronts, spoils some, finds a defect on a whole inch.
fn happen(dice: &mut Pcg64, job: &mut Job, last: &Plan) -> Done {
    let mut done = Done {
        fronts: vec![FrontDone::default(); job.fronts.len()],
        ..Done::default()
    };
    for (front, done) in done.fronts.iter_mut().enumerate() {
        let made = !last.not_made.iter().any(|missing| missing.front == front);
        match dice.random_range(0..10) {
            0..3 if made => done.now = Some(Finished::Cut),
            3..6 if made => done.spoiled = 1,
            _ => {}
        }
    }
    if dice.random_bool(0.4) {
        let at = dice.random_range(0..job.boards.len());
        let board = &mut job.boards[at];
        let whole = |length: Length| length.nm() / STEP.nm();
        let from = STEP * dice.random_range(0..whole(board.length) - 1);
        let low = STEP * dice.random_range(0..whole(board.width));
        board.defects.push(Defect {
            kind: DefectKind::Check,
            from,
            to: from + STEP,
            low,
            high: low + STEP,
            side: DefectSide::Both,
            notes: String::new(),
        });
    }
    done
}

/// Fronts with chalk that was not released.
fn held(case: &Case, recut: &Recut) -> Vec<usize> {
    let touched = |front: &usize| case.sawn.pieces.iter().any(|p| p.blank.front == *front);
    let released = |front: &usize| recut.released.iter().any(|(f, _)| f == front);
    let planned = |front: &usize| !case.last.not_made.iter().any(|m| m.front == *front);
    let fronts = 0..case.job.fronts.len();
    fronts
        .filter(|front| planned(front) && !touched(front) && !released(front))
        .collect()
}

fn judge(case: &Case) -> (f64, f64, Best, Recut) {
    let last = Last {
        plan: &case.last,
        plain: true,
    };
    let request = Request {
        threads: 1,
        ..Request::default()
    };
    let found = recut(&case.job, &last, &case.sawn, &request, &Silent);
    let held = held(case, &found);
    let begun = Begun {
        job: &case.job,
        last: &case.last,
        sawn: &case.sawn,
        held: &held,
    };
    let moved = case.job.settings.worth.moved * found.moved.len() as f64;
    let cost = found.plan.totals.cost + moved;
    (
        area_made(&case.job, &found.plan),
        cost,
        best_recut(&begun),
        found,
    )
}

#[test]
fn a_recut_costs_as_little_and_moves_as_few_as_can_be() {
    let cases = cases();
    let judged: Vec<_> = cases.par_iter().map(judge).collect();
    let (mut worse, mut unproved, mut changed) = (0, 0, 0);
    for (case, (area, cost, best, found)) in cases.iter().zip(&judged) {
        let what = || {
            let json = to_json_sawn(&case.job, &found.plan, &found.sawn);
            let other = to_json_sawn(&case.job, &best.plan, &case.sawn);
            format!("{}\n{json}\n{other}\n{:#?}", case.name, case.job)
        };
        let limits = Default::default();
        let sawn = Sawn {
            stays: best.stays.clone(),
            ..case.sawn.clone()
        };
        let broken = check_recut(&case.job, &best.plan, &sawn, false, &limits).err();
        let broken = broken.into_iter().flatten().find(|fault| !fault.is_note());
        assert_eq!(broken, None, "{}", what());
        let beaten =
            *area > best.area + 1e-6 || (*area > best.area - 1e-6 && *cost < best.cost - 1e-6);
        assert!(
            !beaten,
            "{area} for {cost}, not {} for {}\n{}",
            best.area,
            best.cost,
            what()
        );
        let met = *area > best.area - 1e-6 && *cost < best.cost + 1e-6;
        let proved = found.plan.totals.proved || found.unchanged;
        if !met || !proved {
            println!(
                "{}: area {area} of {}, cost {cost} of {}, moved {} of {}, bound {}, proved {proved}, unchanged {}",
                case.name,
                best.area,
                best.cost,
                found.moved.len(),
                best.moved,
                found.plan.totals.bound,
                found.unchanged,
            );
        }
        assert!(met || !proved, "proved, but not the best: {}", what());
        worse += usize::from(!met);
        unproved += usize::from(!proved);
        changed += usize::from(!found.unchanged);
    }
    println!("{changed} recuts, {worse} worse than the best, {unproved} not proved");
    assert!(changed >= 70, "only {changed} recuts");
    assert!(
        worse + unproved <= 2,
        "{worse} worse, {unproved} not proved"
    );
}
