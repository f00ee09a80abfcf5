//! The optimiser against a general solver given a plain model of the same jobs; see
//! `tests/reference/solve.py`.

use std::time::Duration;

use crate::common::reference::{Reference, references};
use grainrow::layout::{self, Request, Silent};
use grainrow::plan::{Limits, Plan, check};

/// The general solver works in whole numbers: its optimum is exact but for its printing.
const NEAR: f64 = 1e-6;

fn assert_sound(reference: &Reference, plan: &Plan) {
    let (name, job) = (&reference.name, &reference.job);
    assert_eq!(
        check(job, plan, false, &Limits::default()),
        Ok(()),
        "{name}"
    );
    let (cost, bound) = (plan.totals.cost, plan.totals.bound);
    let least = reference.cost;
    let all = plan.totals.made == job.fronts.len();
    assert!(
        !all || cost >= least - NEAR,
        "{name}: {cost} is below the optimum {least}"
    );
    assert!(
        bound <= least + NEAR,
        "{name}: the bound {bound} is above the optimum {least}"
    );
}

#[test]
fn quick_plans_never_beat_the_general_solver() {
    let all = references();
    assert!(all.len() >= 12, "only {} references", all.len());
    for reference in &all {
        assert_sound(reference, &layout::quick(&reference.job, 1));
    }
}

#[test]
fn plans_are_as_good_as_the_general_solvers() {
    for reference in references() {
        let request = Request {
            time: Some(Duration::from_secs(60)),
            ..Request::default()
        };
        let plan = layout::plan(&reference.job, &request, &Silent);
        assert_sound(&reference, &plan);
        let (name, cost) = (&reference.name, plan.totals.cost);
        let least = reference.cost;
        assert!(
            cost <= least + NEAR,
            "{name}: {cost}, the general solver has {least}"
        );
        assert!(plan.totals.proved, "{name}: not proved");
    }
}
