//! Wood spent stays spent: cases played through by hand.

use std::path::Path;

use crate::common::stories::Stand;
use grainrow::job::{
    BOARDS_CSV, Crosscut, DEFECTS_CSV, Defect, DefectKind, DefectSide, Done, FRONTS_CSV, Finished,
    FrontDone, JOB_TOML, Job, JobFiles,
};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::Length;
use grainrow::plan::{
    Blank, BoardPlan, End, Face, Plan, Sawn, Section, Strip, check_recut, totals,
};
use grainrow::recut::{Last, rack, recut};

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

fn begin(job: Job, last: Plan) -> Stand {
    Stand {
        done: Done {
            fronts: vec![FrontDone::default(); job.fronts.len()],
            crosscuts: Vec::new(),
            anew: false,
        },
        known: Sawn::default(),
        last,
        job,
    }
}

fn check(from: f64, to: f64, low: f64, high: f64) -> Defect {
    Defect {
        kind: DefectKind::Check,
        from: inches(from),
        to: inches(to),
        low: inches(low),
        high: inches(high),
        side: DefectSide::Both,
        notes: String::new(),
    }
}

#[test]
fn a_board_that_no_longer_carries_a_front_stays_in_the_totals() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-boards/small");
    let text = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let mut files = JobFiles::new();
    for name in [BOARDS_CSV, FRONTS_CSV, DEFECTS_CSV, JOB_TOML] {
        files = files.with(name, text(name));
    }
    let job = files.parse().unwrap().job;
    let last = layout::plan(&job, &Request::default(), &Silent);
    let mut stand = begin(job, last);
    let front = stand
        .job
        .fronts
        .iter()
        .position(|f| f.name == "C1")
        .unwrap();
    stand.done.fronts[front].spoiled = 1;
    let first = stand.recut();
    let spent = stand.sawn().cut_into();
    let mut stand = stand.after(&first);
    // A check over all the board the new C1 is chalked on.
    let board = stand.job.boards.iter().position(|b| b.id == "W3").unwrap();
    stand.job.boards[board]
        .defects
        .push(check(20.0, 49.0, 0.0, 7.0));
    let second = stand.recut();
    let (a, b) = (&first.plan.totals, &second.plan.totals);
    assert!(b.made <= a.made);
    let dearer = b.made < a.made || b.cost > a.cost - 1e-6;
    assert!(dearer, "{} after {}", b.cost, a.cost);
    for spent in spent {
        assert!(
            second
                .plan
                .boards
                .iter()
                .any(|b| (b.board, b.copy) == spent)
        );
    }
}

/// Four fronts of a run on a board with a knot through it; three are cut, one is spoiled, and the
/// board is cut through.
fn cut_through(glue: &str) -> Stand {
    let fronts = format!(
        "front,width,height,thickness,run,glue\na,14,6,3/4,r,{glue}\nb,14,6,3/4,r,{glue}\n\
         c,14,6,3/4,r,{glue}\nd,14,6,3/4,r,{glue}\n"
    );
    let job = JobFiles::new()
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nA,145,7,4/4,5\n",
        )
        .with(FRONTS_CSV, fronts)
        .with(
            DEFECTS_CSV,
            "board,kind,from,to,low,high\nA,knot,70.5,72,0,7\n",
        )
        .with(JOB_TOML, "[worth]\nmoved = 0\n")
        .parse()
        .unwrap()
        .job;
    let last = layout::plan(&job, &Request::default(), &Silent);
    let mut stand = begin(job, last);
    stand.done.fronts[0].spoiled = 1;
    for done in &mut stand.done.fronts[1..] {
        done.now = Some(Finished::Cut);
    }
    stand.done.crosscuts.push(Crosscut {
        board: 0,
        copy: 1,
        at: inches(62.375),
    });
    stand
}

#[test]
fn each_thing_forbidden_costs_as_much_or_more() {
    for glue in ["yes", "no"] {
        for (low, high) in [(0.0, 7.0), (3.0, 3.25)] {
            forbid_more_and_more(cut_through(glue), low, high);
        }
    }
}

/// A check from the knot on, so wide, and then no gluing.
fn forbid_more_and_more(stand: Stand, low: f64, high: f64) {
    let first = stand.recut();
    let mut stand = stand.after(&first);
    stand.job.boards[0]
        .defects
        .push(check(72.0, 127.7, low, high));
    let with_check = stand.recut();
    for front in &mut stand.job.fronts {
        front.glue = false;
    }
    let without_glue = stand.recut();
    let told: Vec<(usize, f64)> = [&first, &with_check, &without_glue]
        .map(|recut| (recut.plan.totals.made, recut.plan.totals.cost))
        .into();
    assert!(
        first.plan.totals.proved && with_check.plan.totals.proved,
        "{told:?}"
    );
    for pair in told.windows(2) {
        let ((made, cost), (then_made, then_cost)) = (pair[0], pair[1]);
        let fewer = then_made < made;
        assert!(
            fewer || (then_made == made && then_cost > cost - 1e-6),
            "{told:?}"
        );
    }
}

/// Two fronts of 20 by 5, each in a section of its own, far apart on one board; both cut.
fn far_apart() -> Stand {
    let job = JobFiles::new()
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nA,145,7,4/4,5\n",
        )
        .with(
            FRONTS_CSV,
            "front,width,height,thickness\na,20,5,3/4\nb,20,5,3/4\n",
        )
        .with(JOB_TOML, "")
        .parse()
        .unwrap()
        .job;
    let section = |front: usize, from: f64| {
        let blank = Blank {
            front,
            stave: 1,
            staves: 1,
            stretch: 1,
            from: inches(from),
            to: inches(from + 21.0),
            low: inches(0.125),
            high: inches(5.375),
            left: End::Hook,
            face: Face::Up,
        };
        Section {
            from: blank.from,
            to: blank.to,
            strips: vec![Strip {
                low: blank.low,
                high: blank.high,
                blanks: vec![blank],
            }],
        }
    };
    let mut last = Plan {
        boards: vec![BoardPlan {
            board: 0,
            copy: 1,
            kept: Vec::new(),
            sections: vec![section(0, 2.0), section(1, 88.4375)],
        }],
        ..Plan::default()
    };
    last.totals = totals(&job, &last, false);
    let mut stand = begin(job, last);
    stand.done.fronts[0].now = Some(Finished::Cut);
    stand.done.fronts[1].now = Some(Finished::Cut);
    stand
}

#[test]
fn what_lies_between_two_sections_sawn_off_is_kept_and_goes_on_the_rack() {
    let stand = far_apart();
    let found = stand.recut();
    let kept: Vec<[f64; 4]> = found.plan.boards[0]
        .kept
        .iter()
        .map(|k| [k.from, k.to, k.low, k.high].map(|at| at.inches()))
        .collect();
    // From a kerf past 23 to a kerf before 88 7/16: 65 3/16; from a kerf past 109 7/16 to 143.
    assert_eq!(
        kept,
        [[23.125, 88.3125, 0.0, 7.0], [109.5625, 143.0, 0.0, 7.0]]
    );
    let limits = Default::default();
    let ok = check_recut(&stand.job, &found.plan, &found.sawn, false, &limits);
    assert_eq!(ok, Ok(()));
    let lengths: Vec<f64> = rack(&stand.job, &found.plan, &found.sawn)
        .iter()
        .map(|piece| piece.board.length.inches())
        .collect();
    assert_eq!(lengths, [65.1875, 33.4375]);
}

#[test]
fn what_lies_beside_a_section_sawn_off_is_used_up_to_its_end() {
    // With a front 64 long to make, the length between the two holds its blank of 65; a board of
    // its own would need 69.
    let mut stand = far_apart();
    let mut long = stand.job.fronts[0].clone();
    (long.name, long.width) = ("c".to_owned(), inches(64.1875));
    stand.job.fronts.push(long);
    stand.job.runs.push(grainrow::job::Run {
        name: "c".to_owned(),
        fronts: vec![2],
    });
    stand.done.fronts.push(FrontDone::default());
    let found = stand.recut();
    assert_eq!(found.plan.totals.made, 3);
    let limits = Default::default();
    let ok = check_recut(&stand.job, &found.plan, &found.sawn, false, &limits);
    assert_eq!(ok, Ok(()));
}

#[test]
fn chalk_of_an_earlier_format_that_is_not_plain_is_planned_anew_and_what_is_cut_stands() {
    // The second section runs on for an inch.
    let mut stand = far_apart();
    stand.last.boards[0].sections[1].to += inches(1.0);
    stand.done.fronts[1].now = None;
    let as_read = |plain: bool| {
        let last = Last {
            plan: &stand.last,
            plain,
        };
        recut(
            &stand.job,
            &last,
            &stand.sawn(),
            &Request::default(),
            &Silent,
        )
    };
    let released = |plain: bool| -> Vec<usize> {
        as_read(plain)
            .released
            .iter()
            .map(|(front, _)| *front)
            .collect()
    };
    assert_eq!(released(true), Vec::<usize>::new());
    assert_eq!(released(false), [1]);
    let found = as_read(false);
    let first = &found.plan.boards[0].sections[0];
    assert_eq!((first.from, first.to), (inches(2.0), inches(23.0)));
    let limits = Default::default();
    let ok = check_recut(&stand.job, &found.plan, &found.sawn, false, &limits);
    assert_eq!(ok, Ok(()));
}
