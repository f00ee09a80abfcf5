//! Invented jobs of a shop's size: every plan keeps the rules, survives its file, and says the
//! same whoever counts.

use grainrow::job::generate::{Size, generate};
use grainrow::layout;
use grainrow::plan::{Limits, check, from_json, to_json};
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
