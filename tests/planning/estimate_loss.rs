//! How much the fast planner behind `estimate` makes a maker buy too much, against the full
//! optimiser. It takes minutes, so it runs only when asked for:
//!
//! ```text
//! cargo test --release --test planning estimate_loss -- --ignored --nocapture
//! ```

use std::path::Path;
use std::time::Duration;

use crate::common::generate::{Size, generate};
use grainrow::estimate::{MEASURED_LOSS, loss};
use grainrow::job::{Job, read};
use grainrow::measure::Length;

/// Piles of each job.
const PILES: usize = 200;
/// Time for each question to the optimiser.
const TIME: Duration = Duration::from_secs(3);

#[test]
#[ignore = "takes minutes"]
fn a_random_job_is_bought_little_too_much() {
    let mut job = generate(Size::new(20, 5, 1), 11);
    for front in &mut job.fronts {
        front.thickness = Length::from_inches(0.75);
        front.width = front.width.min(Length::from_inches(24.0));
    }
    measure(&job);
}

#[test]
#[ignore = "takes minutes"]
fn the_chest_is_bought_little_too_much() {
    let chest = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-boards/chest");
    measure(&read(&chest).expect("the sample reads").job);
}

fn measure(job: &Job) {
    let loss = loss(job, PILES, 0, TIME).expect("the yard's boards make it");
    println!("{loss:?}: {:.2} % of the feet bought", 100.0 * loss.share());
    // A pile or two never come to an end.
    assert!(loss.piles > PILES * 95 / 100);
    // How much the optimiser proves depends on the machine.
    assert!(loss.least <= loss.feet && loss.share() <= 2.0 * MEASURED_LOSS);
}
