//! Invented jobs of a shop's size: every plan keeps the rules, survives its file, and says the
//! same whoever counts.

use crate::common::generate::{Size, generate};
use grainrow::layout::{self, Request, Silent};
use grainrow::packet::{Mark, MarkKind, marks};
use grainrow::plan::{BoardPlan, Limits, check, from_json, to_json};
use rayon::prelude::*;

#[test]
fn quick_plans_of_invented_jobs_pass_the_checker() {
    let chests = (0..12).map(|seed| (Size::CHEST, seed));
    let kitchens = (0..2).map(|seed| (Size::KITCHEN, seed));
    let jobs: Vec<(Size, u64)> = chests.chain(kitchens).collect();
    jobs.into_par_iter().for_each(|(size, seed)| {
        let job = generate(size, seed);
        let plan = layout::quick(&job, seed);
        assert_eq!(
            check(&job, &plan, false, &Limits::default()),
            Ok(()),
            "{size:?}, seed {seed}"
        );
    });
}

#[test]
fn a_plan_read_back_from_its_file_passes_as_well() {
    for seed in 0..3 {
        let job = generate(Size::CHEST, seed);
        let plan = layout::quick(&job, 1);
        let read = from_json(&job, &to_json(&job, &plan)).expect("a plan of this job");
        assert_eq!(read.boards, plan.boards, "seed {seed}");
        assert_eq!(
            check(&job, &read, false, &Limits::default()),
            Ok(()),
            "seed {seed}"
        );
    }
}

#[test]
fn equal_seeds_give_equal_plans() {
    for seed in 0..3 {
        let job = generate(Size::CHEST, seed);
        let boards = || layout::quick(&job, 9).boards;
        assert_eq!(boards(), boards(), "seed {seed}");
    }
}

/// Chests of which all plans are split into parts before the best is known: which of them are worked on side
/// by side, and which ends first, is no matter.
#[test]
fn chests_have_equal_plans_on_any_number_of_threads() {
    for seed in [10, 12] {
        let job = generate(Size::CHEST, seed);
        let on = |threads: usize| {
            let request = Request {
                threads,
                ..Request::default()
            };
            layout::plan(&job, &request, &Silent)
        };
        let plan = on(2);
        assert!(plan.totals.proved, "seed {seed}");
        assert_eq!(plan.boards, on(1).boards, "seed {seed}");
        assert_eq!(check(&job, &plan, false, &Limits::default()), Ok(()));
    }
}

/// Most fronts of an invented job can be made, else it would measure little.
#[test]
fn invented_jobs_can_mostly_be_made() {
    let share = |seed: u64| {
        let job = generate(Size::CHEST, seed);
        layout::quick(&job, 1).totals.made as f64 / job.fronts.len() as f64
    };
    let shares: Vec<f64> = (0..10u64).into_par_iter().map(share).collect();
    let mean = shares.iter().sum::<f64>() / shares.len() as f64;
    assert!(mean > 0.97, "mean share made {mean}: {shares:?}");
}

/// Whoever cuts along every mark is left with every blank: each of its four edges lies on a mark.
#[test]
fn every_edge_of_every_blank_is_marked() {
    let job = generate(Size::CHEST, 3);
    let plan = layout::quick(&job, 1);
    for planned in &plan.boards {
        let all = marks(&job, planned);
        let steps: Vec<MarkKind> = all.iter().map(|mark| mark.kind).collect();
        let first = |kind| steps.iter().position(|&step| step == kind);
        assert!(
            first(MarkKind::Crosscut) == Some(0)
                && first(MarkKind::Rip) < first(MarkKind::Keep).or(Some(usize::MAX))
        );
        assert_edges_marked(planned, &all);
    }
}

fn assert_edges_marked(planned: &BoardPlan, all: &[Mark]) {
    let strips = planned.sections.iter().flat_map(|section| &section.strips);
    for blank in strips.flat_map(|strip| &strip.blanks) {
        let across = |at| {
            let runs_past = |m: &&Mark| m.across.0 <= blank.low && m.across.1 >= blank.high;
            let here = |m: &&Mark| m.is_across() && m.along.0 == at;
            all.iter().filter(here).any(|mark| runs_past(&mark))
        };
        let along = |at| {
            let runs_past = |m: &&Mark| m.along.0 <= blank.from && m.along.1 >= blank.to;
            let here = |m: &&Mark| !m.is_across() && m.across.0 == at;
            all.iter().filter(here).any(|mark| runs_past(&mark))
        };
        assert!(across(blank.from) && across(blank.to), "{blank:?}");
        assert!(along(blank.low) && along(blank.high), "{blank:?}");
    }
}
