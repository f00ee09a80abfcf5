//! The order of work, walked through on the boards: a small shop that does what the sheet prints,
//! step by step, and knows of the plan only what comes out in the end.
//!
//! It has raw boards, makes each cut where the words say, and keeps watch: nothing shorter than
//! `shortest_safe` is cut apart before it is flat, no blade runs through a blank that is still to
//! come out, no raw edge runs along the fence, and every front comes out once, as large as it must
//! be and clear of every defect that shows. All jobs are invented.

use std::path::Path;

use crate::common::generate::{Size, generate};
use crate::common::walk::walk;
use grainrow::job::{self, Job};
use grainrow::layout::{self, Request, Silent};
use grainrow::plan::{Limits, check};

fn planned_and_walked(job: &Job) {
    let plan = layout::plan(job, &Request::default(), &Silent);
    check(job, &plan, false, &Limits::default()).expect("a plan that holds");
    walk(job, &plan);
}

#[test]
fn the_samples_come_out_as_their_sheets_say() {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-boards");
    for sample in ["small", "tall-case", "chest"] {
        let reading = job::read(&samples.join(sample)).expect("a sample without faults");
        let mut job = reading.job;
        job.settings.fraction = 64;
        let request = Request {
            time: Some(std::time::Duration::from_secs(10)),
            ..Request::default()
        };
        walk(&job, &layout::plan(&job, &request, &Silent));
    }
}

#[test]
fn generated_chests_come_out_whatever_their_boards() {
    for seed in 0..12 {
        let mut job = generate(Size::CHEST, seed);
        job.settings.fraction = 64;
        walk(&job, &layout::quick(&job, seed));
    }
}

/// Short fronts, some in runs and some alone: what must stay joined, and what needs its waste.
#[test]
fn short_fronts_stay_joined_or_keep_their_waste() {
    let job = crate::common::shop_jobs::short_fronts();
    planned_and_walked(&job);
}

/// Knots at the near edge and in the middle: strips that touch neither the edge nor each other.
#[test]
fn strips_away_from_the_edge_and_from_each_other_are_reached() {
    let (job, plan) = crate::common::shop_jobs::strips_with_gaps();
    check(&job, &plan, false, &Limits::default()).expect("a plan that holds");
    walk(&job, &plan);
}

/// The wider strip lies farther from the near edge, so that the widest fence setting comes second.
#[test]
fn a_wider_strip_is_not_ripped_before_the_narrower_one_beside_it() {
    let (job, plan) = crate::common::shop_jobs::wider_strip_second();
    check(&job, &plan, false, &Limits::default()).expect("a plan that holds");
    walk(&job, &plan);
}
