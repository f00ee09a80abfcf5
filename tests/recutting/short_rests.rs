//! Rule 5 on boards in use: what is left of a strip is what there is. A front whose neighbours were
//! lost, too short for the machines by itself, is not left where no waste is to be had.
//! What is free beside a blank is computed here from the plan and from what was sawn alone.

use crate::common::tiny::{Tiny, tiny};
use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML};
use grainrow::job::{Crosscut, Done, Finished, FrontDone, Job, JobFiles};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::Length;
use grainrow::plan::{Blank, Plan, Sawn};
use grainrow::recut::{Last, Recut, begun, recut};

fn again(job: &Job, last: &Plan, done: &Done) -> Recut {
    let sawn = begun(job, last, &Sawn::default(), done).unwrap();
    let last = Last {
        plan: last,
        plain: true,
    };
    recut(job, &last, &sawn, &Request::default(), &Silent)
}

/// Spans along a strip that no uncut front can have: other blanks, lost ones and crosscuts, each
/// with its kerfs.
fn taken(job: &Job, recut: &Recut, on: (usize, u32), blank: &Blank) -> Vec<(Length, Length)> {
    let kerf = job.settings.allowances.crosscut_kerf;
    let beside = |other: &Blank| other.low < blank.high && blank.low < other.high;
    let with_kerfs = |b: &Blank| (b.from - kerf, b.to + kerf);
    let here = recut.plan.boards.iter().filter(|b| (b.board, b.copy) == on);
    let blanks = here
        .flat_map(|b| &b.sections)
        .flat_map(|s| &s.strips)
        .flat_map(|s| &s.blanks);
    let others = blanks.filter(|b| (b.front, b.stave) != (blank.front, blank.stave));
    let lost = recut.sawn.pieces.iter();
    let lost = lost.filter(|p| !p.stands() && (p.board, p.copy) == on);
    let lost = lost.map(|piece| &piece.blank);
    let crosscuts = recut.sawn.crosscuts.iter();
    let crosscuts = crosscuts.filter(|cut| (cut.board, cut.copy) == on);
    others
        .chain(lost)
        .filter(|b| beside(b))
        .map(with_kerfs)
        .chain(crosscuts.map(|cut| (cut.at, cut.at + kerf)))
        .collect()
}

/// Every uncut front shorter than is safe with what there is beside it: at most the free length of
/// its strip, and its neighbours of one stretch that are not lost (with them it may be milled).
fn short_of(job: &Job, recut: &Recut) -> Vec<String> {
    let safe = job.settings.allowances.shortest_safe;
    let mut found = Vec::new();
    for board in &recut.plan.boards {
        let on = (board.board, board.copy);
        for section in &board.sections {
            for blank in section.strips.iter().flat_map(|strip| &strip.blanks) {
                if recut.sawn.is_fixed(blank.front) {
                    continue;
                }
                let run = job.place_of(blank.front).0;
                let neighbour = |span: &(Length, Length)| {
                    let blanks = section.strips.iter().flat_map(|strip| &strip.blanks);
                    blanks
                        .filter(|b| job.place_of(b.front).0 == run && b.stretch == blank.stretch)
                        .any(|b| b.from >= span.0 && b.to <= span.1)
                };
                let (mut from, mut to) = (section.from, section.to);
                for span in taken(job, recut, on, blank) {
                    if neighbour(&span) {
                        continue;
                    }
                    if span.1 <= blank.from {
                        from = from.max(span.1);
                    } else if span.0 >= blank.to {
                        to = to.min(span.0);
                    }
                }
                if to - from < safe {
                    let name = &job.fronts[blank.front].name;
                    found.push(format!("{name}: {} in left", (to - from).inches()));
                }
            }
        }
    }
    found
}

fn marked(job: &Job, front: usize, now: Option<Finished>) -> Done {
    let mut done = Done {
        fronts: vec![FrontDone::default(); job.fronts.len()],
        ..Done::default()
    };
    done.fronts[front] = FrontDone {
        now,
        spoiled: u32::from(now.is_none()),
    };
    done
}

/// Where the first blank of a plan begins and ends.
fn ends(plan: &Plan) -> (Length, Length) {
    let blank = &plan.boards[0].sections[0].strips[0].blanks[0];
    (blank.from, blank.to)
}

/// Two fronts of 8 3/8 in, 9 3/8 rough: milled together, and neither can be by itself where the
/// other was.
#[test]
fn half_of_a_short_pair_does_not_stay_where_nine_inches_are_left() {
    let job = JobFiles::new()
        .with(JOB_TOML, "")
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,24,6,5/4,5\nB2,40,6,5/4,5\nB3,40,6,5/4,5\n",
        )
        .with(
            FRONTS_CSV,
            "front,width,height,thickness,run\na1,8 3/8,5,3/4,row\na2,8 3/8,5,3/4,row\n",
        )
        .parse()
        .unwrap()
        .job;
    let last = layout::quick(&job, 0);
    assert_eq!((last.totals.made, last.totals.breaks), (2, 0));
    for front in 0..2 {
        let recut = again(&job, &last, &marked(&job, front, None));
        assert_eq!(short_of(&job, &recut), Vec::<String>::new());
        assert_eq!(recut.plan.totals.made, 2);
    }
    // A crosscut between them parts them as well.
    let (_, end) = ends(&last);
    let mut parted = marked(&job, 0, None);
    parted.fronts[0] = FrontDone::default();
    parted.crosscuts = vec![Crosscut {
        board: last.boards[0].board,
        copy: last.boards[0].copy,
        at: end,
    }];
    let recut = again(&job, &last, &parted);
    assert_eq!(short_of(&job, &recut), Vec::<String>::new());
    // With nothing lost both stay: together they are long enough, be one marked cut or not.
    for now in [None, Some(Finished::Cut)] {
        let mut done = marked(&job, 0, now);
        done.fronts[0].spoiled = 0;
        assert!(again(&job, &last, &done).unchanged);
    }
}

#[test]
fn no_recut_of_a_tiny_job_leaves_a_front_shorter_than_is_safe() {
    let size = Tiny {
        fronts: 4,
        boards: 3,
        ..Tiny::default()
    };
    let mut tried = 0;
    for seed in 0..24 {
        let mut job = tiny(size, seed);
        job.settings.allowances.shortest_safe = Length::from_inches(9.0);
        let last = layout::quick(&job, 0);
        for front in 0..job.fronts.len() {
            let planned = last.not_made.iter().all(|missing| missing.front != front);
            if planned {
                let recut = again(&job, &last, &marked(&job, front, None));
                let found = short_of(&job, &recut);
                assert!(found.is_empty(), "seed {seed}, {front}: {found:?}");
                tried += 1;
            }
        }
    }
    assert!(tried > 60, "{tried}");
}
