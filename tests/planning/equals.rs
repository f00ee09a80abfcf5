//! Plans of equal cost: whatever is asked of how they read, the cost stays, every rule is kept, and none reads worse.

use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, Job, JobFiles};
use grainrow::layout::{self, Request, Silent};
use grainrow::plan::{Blank, End, Face, Plan, check};
use grainrow::ways::{Case, Reading, best_reading};

fn job(boards: &str, fronts: &str) -> Job {
    let files = JobFiles::new()
        .with(JOB_TOML, "[allowances]\nkeep_offcut = \"12\"\n".to_owned())
        .with(
            BOARDS_CSV,
            format!("board,length,width,thickness,tone\n{boards}"),
        )
        .with(
            FRONTS_CSV,
            format!("front,width,height,thickness,run\n{fronts}"),
        );
    files.parse().expect("a job").job
}

fn blanks(plan: &Plan) -> impl Iterator<Item = &Blank> {
    let sections = plan.boards.iter().flat_map(|board| &board.sections);
    let strips = sections.flat_map(|section| &section.strips);
    strips.flat_map(|strip| &strip.blanks)
}

fn read_best(job: &Job, reads: &dyn Fn(&Plan) -> f64) -> (Plan, Plan, Reading) {
    let request = Request::default();
    let first = layout::plan(job, &request, &Silent);
    assert!(first.totals.proved);
    let case = Case {
        job,
        by_money: false,
        limits: &request.limits,
        reads: &|plan| [0.0, reads(plan), 0.0, 0.0],
        stop: &|| false,
    };
    let (best, reading) = best_reading(&case, &first);
    assert!((best.totals.cost - first.totals.cost).abs() < 1e-6);
    check(job, &best, false, &request.limits).expect("every rule kept");
    assert!(reading[1] <= reads(&first) && reading[1] == reads(&best));
    (first, best, reading)
}

/// 36 in of each board lie between its trims, so that B takes three of the fronts (30 1/4 in) and A one.
const BROKEN: (&str, &str) = (
    "A,18,6,4/4,5\nB,36,6,4/4,5\n",
    "a,9,4,3/4,r\nb,9,4,3/4,r\nc,9,4,3/4,r\nd,9,4,3/4,r\n",
);

#[test]
fn a_break_falls_where_it_is_wanted_at_no_cost() {
    let job = job(BROKEN.0, BROKEN.1);
    for wanted in [0, 3] {
        // The front that lies alone.
        let alone = |plan: &Plan| {
            let of = |stretch| blanks(plan).filter(move |blank| blank.stretch == stretch);
            let lone = [1, 2].into_iter().find(|&s| of(s).count() == 1);
            lone.and_then(|s| of(s).next()).map(|blank| blank.front)
        };
        let (first, best, _) = read_best(&job, &|plan| f64::from(alone(plan) != Some(wanted)));
        assert_eq!(first.totals.breaks, 1);
        assert_eq!(alone(&best), Some(wanted));
    }
}

#[test]
fn stretches_are_turned_end_for_end_and_face_over() {
    let job = job(BROKEN.0, BROKEN.1);
    for (left, face) in [
        (End::Hook, Face::Up),
        (End::Far, Face::Up),
        (End::Far, Face::Down),
    ] {
        let otherwise = |plan: &Plan| {
            let wrong = |blank: &&Blank| (blank.left, blank.face) != (left, face);
            blanks(plan).filter(wrong).count() as f64
        };
        let (_, best, reading) = read_best(&job, &otherwise);
        assert_eq!(reading[1], 0.0, "{left:?} {face:?}");
        assert!(blanks(&best).all(|blank| (blank.left, blank.face) == (left, face)));
    }
}

#[test]
fn strips_and_sections_slide_along_waste() {
    let job = job("A,40,9,4/4,5\n", "a,20,4,3/4,r\n");
    let place = |plan: &Plan| blanks(plan).map(|blank| blank.low.inches()).sum::<f64>();
    let (first, high, _) = read_best(&job, &|plan| -place(plan));
    let (_, low, _) = read_best(&job, &place);
    assert!(
        place(&high) > place(&low) + 0.3,
        "{} {}",
        place(&high),
        place(&low)
    );
    assert!(place(&low) <= place(&first));
}
