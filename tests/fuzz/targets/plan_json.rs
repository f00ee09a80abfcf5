//! A plan.json of any bytes is a plan of the job, or it is told why not.
#![no_main]

use std::sync::LazyLock;

use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, Job, JobFiles};
use grainrow::plan::{Limits, check, earlier_from_json};
use libfuzzer_sys::fuzz_target;

static JOB: LazyLock<Job> = LazyLock::new(|| {
    let files = JobFiles::new()
        .with(JOB_TOML, "")
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,60,6,5/4,5\n",
        )
        .with(
            FRONTS_CSV,
            "front,width,height,thickness,run\nleft,14,4,3/4,row\nright,14,4,3/4,row\n",
        );
    files.parse().expect("a job").job
});

fuzz_target!(|text: &str| {
    if let Ok(earlier) = earlier_from_json(&JOB, text) {
        let _ = check(&JOB, &earlier.plan, false, &Limits::default());
    }
});
