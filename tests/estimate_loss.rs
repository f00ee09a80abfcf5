//! How much the fast planner behind `estimate` makes a maker buy too much, against the full
//! optimiser. It takes long, so it runs only when asked for:
//!
//! ```text
//! cargo test --release --test estimate_loss -- --ignored --nocapture
//! ```

use std::time::Duration;

use grainrow::estimate::loss;
use grainrow::job::generate::{Size, generate};
use grainrow::measure::Length;

#[test]
#[ignore = "takes minutes"]
fn the_fast_planner_buys_little_too_much() {
    let mut job = generate(Size::new(20, 5, 1), 11);
    for front in &mut job.fronts {
        front.thickness = Length::from_inches(0.75);
        front.width = front.width.min(Length::from_inches(24.0));
    }
    let loss = loss(&job, 200, 0, Duration::from_secs(5)).expect("the yard's boards make it");
    println!("{loss:?}: {:.1} % of the feet bought", 100.0 * loss.share());
    assert_eq!(loss.piles, 200);
    assert!(loss.least <= loss.feet && loss.share() < 0.15);
}
