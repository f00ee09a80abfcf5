//! The optimiser against itself: a job turned over, or with more to choose from, may not contradict what was
//! proved of it. No reference is needed, so that jobs can be of any size.

use std::time::Duration;

use crate::common::generate::{Size, generate};
use grainrow::job::{Board, Defect, DefectKind, DefectSide, Job};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::{Length, Unit};
use grainrow::plan::{Limits, Plan, check};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// Bounds end a hair below the cost they prove.
const NEAR: f64 = 1e-5;
/// More than most small jobs take; large ones need not be proved by then.
const PATIENCE: Duration = Duration::from_secs(20);
/// The same where there are very many: what is not proved by then is compared by its bounds.
const HASTE: Duration = Duration::from_millis(100);
/// 144 cubic inches, in litres of 25.4^3 cubic millimetres an inch.
const LITRES_IN_BOARD_FOOT: f64 = 2.359_737_216;

/// What is done to a job, and what may become of its cost.
#[derive(Clone, Copy, Debug)]
enum Change {
    EndForEnd,
    SideForSide,
    DropUnused,
    AddBoard,
    TurnRows,
    TurnPile,
    SplitCopies,
    InMillimetres,
}

const ALL: [Change; 8] = [
    Change::EndForEnd,
    Change::SideForSide,
    Change::DropUnused,
    Change::AddBoard,
    Change::TurnRows,
    Change::TurnPile,
    Change::SplitCopies,
    Change::InMillimetres,
];

impl Change {
    fn made(self, job: &Job, plan: &Plan) -> Job {
        let mut job = job.clone();
        match self {
            Change::EndForEnd => job.boards.iter_mut().for_each(|board| {
                let long = board.length;
                turn(board, |d| (d.from, d.to) = (long - d.to, long - d.from));
            }),
            Change::SideForSide => job.boards.iter_mut().for_each(|board| {
                let wide = board.width;
                turn(board, |d| (d.low, d.high) = (wide - d.high, wide - d.low));
            }),
            Change::DropUnused => {
                let used = |index: &usize| plan.boards.iter().any(|b| b.board == *index);
                let boards = std::mem::take(&mut job.boards).into_iter().enumerate();
                job.boards = boards
                    .filter(|(index, _)| used(index))
                    .map(|(_, b)| b)
                    .collect();
            }
            Change::AddBoard => {
                let mut more = job.boards[0].clone();
                more.id = "one more".to_owned();
                more.copies = vec![1];
                more.length += Length::from_inches(5.0);
                more.defects.clear();
                job.boards.push(more);
            }
            Change::TurnRows => job.runs.reverse(),
            Change::TurnPile => job.boards.reverse(),
            Change::SplitCopies => {
                let split = |board: Board| {
                    let one = |&copy: &u32| Board {
                        id: format!("{} {copy}", board.id),
                        copies: vec![1],
                        ..board.clone()
                    };
                    board.copies.iter().map(one).collect::<Vec<_>>()
                };
                job.boards = std::mem::take(&mut job.boards)
                    .into_iter()
                    .flat_map(split)
                    .collect();
            }
            // Boards under 4/4 are counted as such in board feet only; these jobs have none.
            Change::InMillimetres => {
                job.settings.unit = Unit::Mm;
                let worth = &mut job.settings.worth;
                let all = [
                    &mut worth.unbroken,
                    &mut worth.tone_run,
                    &mut worth.tone_case,
                    &mut worth.glue_line,
                ];
                all.into_iter()
                    .for_each(|worth| *worth *= LITRES_IN_BOARD_FOOT);
            }
        }
        job
    }

    /// Whether the cost may fall.
    fn may_save(self) -> bool {
        matches!(self, Change::AddBoard)
    }

    /// What wood is counted in afterwards, in what it was counted in before.
    fn volume(self) -> f64 {
        match self {
            Change::InMillimetres => LITRES_IN_BOARD_FOOT,
            _ => 1.0,
        }
    }
}

fn turn(board: &mut Board, turn: impl Fn(&mut Defect)) {
    board.defects.iter_mut().for_each(turn);
}

/// Few fronts, boards of few sizes some of which there are two of, and many defects: where boards are tight and
/// odd places count. Whole eighths of an inch; invented.
fn crowded(seed: u64) -> Job {
    let mut dice = Pcg64::seed_from_u64(seed);
    // One in eight is as large as these jobs get: others are proved sooner.
    let large = seed.is_multiple_of(8);
    let fronts = dice.random_range(3..=if large { 8 } else { 5 });
    let size = Size {
        fronts,
        runs: dice.random_range(1..=fronts),
        boards: dice.random_range(2..=if large { 4 } else { 3 }),
    };
    let mut job = generate(size, seed);
    let eighths = |dice: &mut Pcg64, low: i64, high: i64| {
        Length::from_nm(dice.random_range(low * 8..=high * 8) * 3_175_000)
    };
    let settings = &mut job.settings;
    settings.glue.allow = false;
    let keep = [None, Some(12.0), Some(18.0), Some(24.0)][dice.random_range(0..4)];
    settings.allowances.keep_offcut = keep.map(Length::from_inches);
    settings.allowances.keep_width = eighths(&mut dice, 2, 5);
    settings.worth.unbroken = dice.random_range(0..16) as f64 / 4.0;
    for front in &mut job.fronts {
        front.glue = false;
        front.width = eighths(&mut dice, 4, 18);
    }
    for board in &mut job.boards {
        board.length = eighths(&mut dice, 44, 96);
        board.width = eighths(&mut dice, 7, 18);
        board.defects.clear();
        for _ in 0..dice.random_range(0..=5) {
            let (from, low) = (eighths(&mut dice, 0, 40), eighths(&mut dice, 0, 6));
            board.defects.push(Defect {
                kind: DefectKind::Knot,
                from,
                to: from + eighths(&mut dice, 1, 3),
                low,
                high: low + eighths(&mut dice, 1, 3),
                side: [DefectSide::Both, DefectSide::Both, DefectSide::Up][dice.random_range(0..3)],
                notes: String::new(),
            });
        }
        if dice.random_range(0..4) == 0 {
            board.copies = vec![1, 2];
        }
    }
    job
}

fn planned(job: &Job, time: Duration) -> Plan {
    let request = Request {
        time: Some(time),
        threads: 1,
        ..Request::default()
    };
    let plan = layout::plan(job, &request, &Silent);
    assert_eq!(check(job, &plan, false, &Limits::default()), Ok(()));
    plan
}

/// Greatest area first: what the plans cost is only compared where they make the same fronts.
fn contradiction(job: &Job, plan: &Plan, change: Change, time: Duration) -> Option<String> {
    let turned = change.made(job, plan);
    if turned.boards.is_empty() {
        return None;
    }
    let other = planned(&turned, time);
    let (before, mut after) = (&plan.totals, other.totals.clone());
    after.cost /= change.volume();
    after.bound /= change.volume();
    if before.made != after.made {
        // What is not proved may yet make more.
        let lost = after.made < before.made;
        let fewer = if lost { &after } else { before };
        let said = format!("{change:?}: {} made, then {}", before.made, after.made);
        return (fewer.proved && (lost || !change.may_save())).then_some(said);
    }
    let dearer = before.proved && after.bound > before.cost + NEAR;
    let cheaper = !change.may_save() && before.bound > after.cost + NEAR;
    let both = format!(
        "{change:?}: {} (at least {}), then {} (at least {})",
        before.cost, before.bound, after.cost, after.bound
    );
    (dearer || cheaper).then_some(both)
}

/// What contradicts in some jobs, and how many of them were proved.
fn look(
    count: usize,
    (time, changes): (Duration, usize),
    job: impl Fn(usize) -> (String, Job) + Sync,
) -> (Vec<String>, usize) {
    let each = crate::common::side_by_side::each(count, |nth| {
        let (name, job) = job(nth);
        let plan = planned(&job, time);
        // All changes are tried on as many jobs.
        let turn = (0..changes).map(|turn| ALL[(nth * changes + turn) % ALL.len()]);
        let found = turn.filter_map(|change| contradiction(&job, &plan, change, time));
        let found: Vec<String> = found.map(|said| format!("{name}: {said}")).collect();
        (found, plan.totals.proved)
    });
    let proved = each.iter().filter(|(_, proved)| *proved).count();
    (
        each.into_iter().flat_map(|(found, _)| found).collect(),
        proved,
    )
}

fn assert_no_contradiction(
    from: u64,
    (count, least_proved): (usize, usize),
    effort: (Duration, usize),
) {
    let (found, proved) = look(count, effort, |nth| {
        let seed = from + nth as u64;
        (format!("crowded {seed}"), crowded(seed))
    });
    println!("{count} jobs, {proved} proved, {} contradict", found.len());
    assert!(found.is_empty(), "{}:\n{}", found.len(), found.join("\n"));
    assert!(proved >= least_proved, "{proved} proved");
}

#[test]
#[ignore = "some of these jobs take long to prove"]
fn crowded_jobs_turned_every_way_cost_the_same() {
    assert_no_contradiction(0, (100, 95), (PATIENCE, ALL.len()));
}

/// `cargo test --test planning turned_over -- --ignored --nocapture`
#[test]
#[ignore = "takes minutes"]
fn two_thousand_crowded_jobs_turned_over_cost_the_same() {
    assert_no_contradiction(1_000, (2_000, 500), (HASTE, 1));
}

#[test]
#[ignore = "takes minutes in a debug build"]
fn jobs_of_a_shop_turned_over_cost_the_same() {
    let size = |nth: u64| match nth % 3 {
        0 => Size::new(10, 4, 8),
        1 => Size::new(16, 5, 12),
        _ => Size::CHEST,
    };
    let (found, proved) = look(9, (PATIENCE, ALL.len()), |nth| {
        let seed = nth as u64;
        (format!("shop {seed}"), generate(size(seed), seed))
    });
    assert!(found.is_empty(), "{}:\n{}", found.len(), found.join("\n"));
    assert!(proved >= 6, "{proved} proved");
}
