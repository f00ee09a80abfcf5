//! That a search which starts warm proves what one from nothing proves, whatever has changed.

use std::time::Duration;

use crate::job::Job;
use crate::job::generate::{Size, generate};
use crate::layout::model::problem::Problem;
use crate::layout::search::warm_start::WarmStart;
use crate::layout::{Request, Silent, plan_from};
use crate::measure::Length;
use crate::plan::{Plan, check};

const SIZE: Size = Size {
    fronts: 6,
    runs: 3,
    boards: 5,
};
/// More than any search here takes, so that a slow machine ends in a failure, and not in a plan unproved.
const PATIENCE: Duration = Duration::from_secs(600);

/// A random job, some of whose fronts may be glued.
fn job(seed: u64) -> Job {
    let mut job = generate(SIZE, seed);
    let glued = seed.is_multiple_of(2);
    job.fronts
        .iter_mut()
        .skip(1)
        .for_each(|front| front.glue = false);
    job.fronts[0].glue &= glued;
    job
}

fn searched(job: &Job, warm: &mut WarmStart) -> Plan {
    let request = Request {
        time: Some(PATIENCE),
        ..Request::default()
    };
    plan_from(job, &request, &Silent, warm)
}

/// What a maker may change between one plan and the next.
fn changes(job: &Job, plan: &Plan) -> Vec<(&'static str, Job)> {
    let used = plan.boards[0].board;
    let change = |what, change: &dyn Fn(&mut Job)| {
        let mut changed = job.clone();
        change(&mut changed);
        (what, changed)
    };
    vec![
        change("nothing", &|_| ()),
        change("a front not from its board", &|job| {
            let board = job.boards[used].id.clone();
            job.fronts[0].not_boards.push(board);
        }),
        change("a board put aside", &|job| job.boards[used].left_out = true),
        change("two fronts together", &|job| {
            let run = job.runs.iter().find(|run| run.fronts.len() > 1);
            let first = run.expect("some run has two").fronts[0];
            job.fronts[first].with_next = true;
        }),
        change("a front wider and higher", &|job| {
            job.fronts[1].width += Length::from_inches(0.25);
            job.fronts[1].height += Length::from_inches(0.125);
        }),
        change("a board shorter and narrower", &|job| {
            job.boards[used].length -= Length::from_inches(6.0);
            job.boards[used].width -= Length::from_inches(0.5);
        }),
        change("breaks worth less", &|job| {
            job.settings.worth.unbroken = 0.5
        }),
    ]
}

#[test]
fn a_warm_search_proves_what_one_from_nothing_proves() {
    for seed in 1..=4 {
        let job = job(seed);
        let mut warm = WarmStart::default();
        let first = searched(&job, &mut warm);
        for (what, changed) in changes(&job, &first) {
            let mut from = warm.clone();
            let cold = searched(&changed, &mut WarmStart::default());
            let plan = searched(&changed, &mut from);
            let limits = Default::default();
            assert!(check(&changed, &plan, false, &limits).is_ok(), "{what}");
            assert!(cold.totals.proved && plan.totals.proved, "{seed}, {what}");
            let [cold, warm] = [&cold, &plan].map(|plan| plan.totals.cost);
            assert!((cold - warm).abs() < 1e-6, "{seed}, {what}: {cold}, {warm}");
        }
    }
}

#[test]
fn a_warm_search_has_columns_and_a_plan_from_the_start() {
    let job = job(3);
    let mut warm = WarmStart::default();
    let first = searched(&job, &mut warm);
    for (what, changed) in changes(&job, &first) {
        let problem = Problem::new(&changed, false);
        let known = warm.for_job(&problem).expect(what);
        let costs = Default::default();
        assert!(!known.columns(&problem, &costs).is_empty(), "{what}");
        let open = known.plan(&problem, &costs).unmade().count();
        assert!(open < changed.fronts.len(), "{what}");
        assert!(open == 0 || what != "nothing");
    }
}

#[test]
fn what_was_known_of_other_boards_or_runs_is_of_no_use() {
    let mut warm = WarmStart::default();
    assert!(
        warm.for_job(&Problem::new(&generate(SIZE, 1), false))
            .is_none()
    );
    searched(&generate(SIZE, 1), &mut warm);
    let fewer_boards = Size { boards: 4, ..SIZE };
    let more_fronts = Size { fronts: 7, ..SIZE };
    for size in [fewer_boards, more_fronts] {
        let other = generate(size, 1);
        assert!(warm.for_job(&Problem::new(&other, false)).is_none());
    }
}
