//! A job of any bytes that can be read is planned, and the checker takes the plan.
#![no_main]

mod files;

use std::time::Duration;

use grainrow::layout::{Limits, Request, Silent, plan};
use grainrow::plan::check;
use libfuzzer_sys::fuzz_target;

/// Fronts of a job that is planned: of more each takes too long to try many.
const MOST: usize = 40;

fuzz_target!(|bytes: &[u8]| {
    let Ok(reading) = files::of(bytes).parse() else {
        return;
    };
    if reading.job.fronts.len() > MOST {
        return;
    }
    let request = Request {
        time: Some(Duration::from_millis(50)),
        threads: 1,
        ..Request::default()
    };
    let plan = plan(&reading.job, &request, &Silent);
    if let Err(broken) = check(&reading.job, &plan, false, &Limits::default()) {
        panic!("a plan that breaks rules: {broken:?}");
    }
});
