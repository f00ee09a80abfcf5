//! Recuts of invented jobs: against the checker, against trying everything, and against themselves.

use crate::common::tiny::{Tiny, tiny};
use grainrow::draw;
use grainrow::job::{Crosscut, Defect, DefectKind, DefectSide, Done, Finished, FrontDone, Job};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::Length;
use grainrow::packet;
use grainrow::plan::{
    BoardPlan, Plan, Rule, Sawn, check_recut, earlier_from_json, to_json_sawn, totals,
};
use grainrow::recut::{Kind, Last, Recut, begun, changes, rack, rack_csv, recut};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

fn untouched(job: &Job) -> Done {
    Done {
        fronts: vec![FrontDone::default(); job.fronts.len()],
        ..Done::default()
    }
}

fn again(job: &Job, last: &Plan, known: &Sawn, done: &Done) -> Recut {
    let sawn = begun(job, last, known, done).unwrap_or_else(|faults| panic!("{faults:?}"));
    recut(
        job,
        &Last {
            plan: last,
            plain: true,
        },
        &sawn,
        &Request::default(),
        &Silent,
    )
}

fn keeps_every_rule(job: &Job, recut: &Recut, money: bool, what: &str) {
    let limits = Default::default();
    let found = check_recut(job, &recut.plan, &recut.sawn, money, &limits).err();
    let mut found = found.unwrap_or_default();
    found.retain(|violation| !violation.is_note());
    if !found.is_empty() {
        panic!(
            "{what}: {found:#?}\n{}",
            to_json_sawn(job, &recut.plan, &recut.sawn)
        );
    }
}

fn fronts_made(plan: &Plan) -> Vec<usize> {
    let mut fronts: Vec<usize> = blanks(plan).map(|(_, blank)| blank.front).collect();
    fronts.sort_unstable();
    fronts.dedup();
    fronts
}

fn blanks(plan: &Plan) -> impl Iterator<Item = (&BoardPlan, &grainrow::plan::Blank)> {
    plan.boards.iter().flat_map(|board| {
        let strips = board.sections.iter().flat_map(|section| &section.strips);
        strips.flat_map(move |strip| strip.blanks.iter().map(move |blank| (board, blank)))
    })
}

/// Jobs of every tiny kind, a few of each.
fn jobs() -> Vec<(String, Job)> {
    let plain = Tiny {
        fronts: 4,
        boards: 3,
        ..Tiny::default()
    };
    let kinds = [
        ("plain", plain),
        (
            "glued",
            Tiny {
                fronts: 3,
                glue: true,
                ..plain
            },
        ),
        (
            "priced",
            Tiny {
                prices: true,
                ..plain
            },
        ),
        (
            "clear",
            Tiny {
                fronts: 5,
                defects: false,
                warp: false,
                ..plain
            },
        ),
    ];
    let seeds = kinds
        .into_iter()
        .flat_map(|kind| (0..10).map(move |seed| (kind, seed)));
    seeds
        .map(|((name, size), seed)| (format!("{name} {seed}"), tiny(size, seed)))
        .collect()
}

#[test]
fn with_nothing_changed_a_recut_is_the_same_plan() {
    for (name, job) in jobs() {
        let last = layout::quick(&job, 0);
        let mut done = untouched(&job);
        if !last.not_made.is_empty() {
            continue;
        }
        let same = again(&job, &last, &Sawn::default(), &done);
        assert!(same.unchanged && same.plan == last, "{name}");
        // Cutting what is planned changes nothing either.
        for &front in fronts_made(&last).iter().step_by(2) {
            done.fronts[front].now = Some(Finished::Cut);
        }
        let same = again(&job, &last, &Sawn::default(), &done);
        assert!(
            same.unchanged && same.plan == last,
            "{name}, half of it cut"
        );
    }
}

/// Cuts, spoils and finds defects at random, recuts, and does it all again twice.
#[test]
fn whatever_happens_a_recut_keeps_every_rule_and_what_is_cut() {
    let (mut spoiled, mut made_anew) = (0, 0);
    for (name, mut job) in jobs() {
        let mut dice = Pcg64::seed_from_u64(7);
        let mut last = layout::quick(&job, 0);
        let mut known = Sawn::default();
        let mut done = untouched(&job);
        for round in 0..3 {
            let what = format!("{name}, round {round}");
            let lost = happen(&mut dice, &mut job, &last, &mut done);
            let before = last.clone();
            let next = again(&job, &last, &known, &done);
            keeps_every_rule(&job, &next, false, &what);
            spoiled += lost.len();
            made_anew += lost
                .iter()
                .filter(|f| fronts_made(&next.plan).contains(f))
                .count();
            for (board, blank) in blanks(&before) {
                if done.fronts[blank.front].now.is_some() {
                    let stands = |(b, other): (&BoardPlan, &grainrow::plan::Blank)| {
                        (b.board, b.copy, other.from, other.low, other.to, other.high)
                            == (
                                board.board,
                                board.copy,
                                blank.from,
                                blank.low,
                                blank.to,
                                blank.high,
                            )
                    };
                    assert!(
                        blanks(&next.plan).any(stands),
                        "{what}: a cut front was touched"
                    );
                }
            }
            hands_over(&job, &before, &next);
            // From the file, and with nothing new, it is the same plan.
            let text = to_json_sawn(&job, &next.plan, &next.sawn);
            let read = earlier_from_json(&job, &text).unwrap();
            assert_eq!(
                (&read.plan.boards, &read.sawn),
                (&next.plan.boards, &next.sawn),
                "{what}"
            );
            if next.plan.not_made.is_empty() {
                let same = again(&job, &read.plan, &read.sawn, &done);
                assert_eq!(same.plan.boards, next.plan.boards, "{what}, again");
            }
            (last, known) = (read.plan, read.sawn);
        }
    }
    assert!(spoiled > 60, "only {spoiled} fronts were spoiled");
    assert!(
        made_anew * 3 > spoiled,
        "only {made_anew} of {spoiled} were made anew"
    );
}

/// Everything handed to the shop can be made of it.
fn hands_over(job: &Job, last: &Plan, recut: &Recut) {
    let told = changes(job, last, recut);
    assert_eq!(told.len(), job.fronts.len());
    for change in &told {
        let placed = change.now.is_some();
        assert_eq!(placed, change.kind != Kind::NotMade, "{change:?}");
    }
    for index in 0..recut.plan.boards.len() {
        draw::board(job, &recut.plan, index);
    }
    draw::elevation(job, &recut.plan, None);
    packet::marks_csv(job, &recut.plan, None);
    packet::cutlist_csv(job, &recut.plan);
    rack_csv(job, &rack(job, &recut.plan, &recut.sawn));
}

/// Cuts some fronts, spoils some, finds a defect; gives the fronts spoiled.
fn happen(dice: &mut Pcg64, job: &mut Job, last: &Plan, done: &mut Done) -> Vec<usize> {
    let mut lost = Vec::new();
    for front in fronts_made(last) {
        match (dice.random_range(0..10), done.fronts[front].now) {
            (0..3, None) => done.fronts[front].now = Some(Finished::Cut),
            (0..2, Some(_)) => done.fronts[front].now = Some(Finished::Made),
            (3..5, _) => {
                done.fronts[front].spoiled += 1;
                done.fronts[front].now = None;
                lost.push(front);
            }
            _ => {}
        }
    }
    let board = dice.random_range(0..job.boards.len());
    let (long, wide) = (
        job.boards[board].length.inches(),
        job.boards[board].width.inches(),
    );
    if dice.random_bool(0.5) {
        let (from, low) = (
            dice.random_range(0.0..long - 1.0),
            dice.random_range(0.0..wide - 1.0),
        );
        job.boards[board].defects.push(Defect {
            kind: DefectKind::Check,
            from: inches(from),
            to: inches(from + 1.0),
            low: inches(low),
            high: inches(low + 0.25),
            side: DefectSide::Both,
            notes: String::new(),
        });
    }
    if dice.random_bool(0.2) {
        let at = inches(dice.random_range(1.0..long - 1.0));
        let copy = job.boards[board].copies[0];
        // No saw goes through what is cut already.
        let through_cut = blanks(last).any(|(b, blank)| {
            (b.board, b.copy) == (board, copy)
                && blank.from < at + inches(1.0)
                && at < blank.to + inches(1.0)
        });
        if !through_cut {
            done.crosscuts.push(Crosscut { board, copy, at });
        }
    }
    lost
}

#[test]
fn spoiling_one_front_never_costs_more_than_making_its_run_anew() {
    let mut tried = 0;
    for (name, job) in jobs()
        .into_iter()
        .filter(|(name, _)| !name.starts_with("priced"))
    {
        let last = layout::quick(&job, 0);
        if !last.not_made.is_empty() {
            continue;
        }
        for run in &job.runs {
            let Some(anew) = with_run_anew(&job, &last, run) else {
                continue;
            };
            let mut done = untouched(&job);
            done.fronts[run.fronts[0]].spoiled = 1;
            let next = again(&job, &last, &Sawn::default(), &done);
            keeps_every_rule(&job, &next, false, &name);
            assert!(next.plan.not_made.is_empty(), "{name}");
            let moved = job.settings.worth.moved;
            let cost = next.plan.totals.cost + moved * next.moved.len() as f64;
            let most = anew.totals.cost + moved * (run.fronts.len() - 1) as f64;
            assert!(
                cost <= most + 1e-6,
                "{name}, run {}: {cost} over {most}",
                run.name
            );
            tried += 1;
        }
    }
    assert!(tried > 10, "only {tried} runs could be made anew");
}

/// The last plan with one run of it wasted and made anew of boards it does not use, if they do.
fn with_run_anew(job: &Job, last: &Plan, run: &grainrow::job::Run) -> Option<Plan> {
    let used = |board: usize, copy: u32| {
        last.boards
            .iter()
            .any(|b| (b.board, b.copy) == (board, copy))
    };
    let mut fresh = job.clone();
    for (index, board) in fresh.boards.iter_mut().enumerate() {
        board.copies.retain(|&copy| !used(index, copy));
    }
    fresh.runs = vec![run.clone()];
    for (index, front) in fresh.fronts.iter().enumerate() {
        if !run.fronts.contains(&index) {
            fresh.runs.push(grainrow::job::Run {
                name: front.name.clone(),
                fronts: Vec::new(),
            });
        }
    }
    fresh.runs.truncate(1);
    let anew = layout::quick(&fresh, 0);
    let all = run
        .fronts
        .iter()
        .all(|front| fronts_made(&anew).contains(front));
    let mut both = last.clone();
    for board in &mut both.boards {
        let strips = board
            .sections
            .iter_mut()
            .flat_map(|section| &mut section.strips);
        strips.for_each(|strip| strip.blanks.retain(|b| !run.fronts.contains(&b.front)));
    }
    both.boards.extend(anew.boards);
    both.totals = totals(job, &both, false);
    all.then_some(both)
}

#[test]
fn the_checker_refuses_to_touch_what_is_cut_or_use_what_is_gone() {
    let job = tiny(
        Tiny {
            fronts: 4,
            boards: 3,
            defects: false,
            warp: false,
            ..Tiny::default()
        },
        1,
    );
    let last = layout::quick(&job, 0);
    let mut done = untouched(&job);
    let first = fronts_made(&last)[0];
    done.fronts[first].now = Some(Finished::Cut);
    let sawn = begun(&job, &last, &Sawn::default(), &done).unwrap();
    let rules = |plan: &Plan, sawn: &Sawn| -> Vec<Rule> {
        let found = check_recut(&job, plan, sawn, false, &Default::default());
        found
            .err()
            .unwrap_or_default()
            .iter()
            .map(|v| v.rule)
            .collect()
    };
    assert_eq!(rules(&last, &sawn), []);
    // The cut front's blank, shifted a hair.
    let mut shifted = last.clone();
    let strips = shifted
        .boards
        .iter_mut()
        .flat_map(|b| &mut b.sections)
        .flat_map(|s| &mut s.strips);
    for blank in strips
        .flat_map(|strip| &mut strip.blanks)
        .filter(|b| b.front == first)
    {
        blank.to += inches(0.001);
    }
    assert!(rules(&shifted, &sawn).contains(&Rule::Sawn));
    // The same place once more after it was spoiled there.
    done.fronts[first] = FrontDone {
        now: None,
        spoiled: 1,
    };
    let lost = begun(&job, &last, &Sawn::default(), &done).unwrap();
    assert!(rules(&last, &lost).contains(&Rule::Sawn));
    // A blank over a crosscut.
    let (planned, blank) = blanks(&last).next().unwrap();
    let crosscut = Crosscut {
        board: planned.board,
        copy: planned.copy,
        at: blank.from + inches(1.0),
    };
    let through = Sawn {
        pieces: Vec::new(),
        crosscuts: vec![crosscut],
        stays: Vec::new(),
    };
    assert!(rules(&last, &through).contains(&Rule::Sawn));
}
