//! Published cutting and packing instances: every plan keeps the rules, none uses fewer boards
//! than the published lower bound, and no bound is above what is known to be possible.

use std::time::Duration;

use crate::common::instances::{
    Instance, boards_by_bound, cutting_stock, one_dimensional, two_dimensional,
};
use grainrow::layout::{self, Request, Silent};
use grainrow::plan::{Limits, Plan, check};
use rayon::prelude::*;

/// The heuristic takes a good while beyond this; the table of `benches/table.rs` has them all.
const MOST_ITEMS: usize = 250;

fn assert_sound(instance: &Instance, plan: &Plan) {
    let (name, job) = (&instance.name, instance.job());
    assert_eq!(
        check(&job, plan, false, &Limits::default()),
        Ok(()),
        "{name}"
    );
    assert_eq!(
        plan.totals.made,
        instance.items.len(),
        "{name}: not all made"
    );
    let used = plan.totals.boards_used;
    let least = instance.lower_bound;
    assert!(
        used >= least,
        "{name}: {used} boards, but none can do with less than {least}"
    );
    if let Some(optimum) = instance.optimum {
        let bound = boards_by_bound(&job, plan);
        let most = optimum as f64 + 1e-6;
        assert!(
            bound <= most,
            "{name}: bound of {bound} boards, {optimum} are known to do"
        );
    }
}

fn small(instances: Vec<Instance>) -> Vec<Instance> {
    let small = |instance: &Instance| instance.items.len() <= MOST_ITEMS;
    instances.into_iter().filter(small).collect()
}

#[test]
fn quick_plans_of_flat_instances_are_sound() {
    let instances = two_dimensional();
    assert_eq!(instances.len(), 60);
    instances.par_iter().for_each(|instance| {
        assert_sound(instance, &layout::quick(&instance.job(), 1));
    });
}

#[test]
fn quick_plans_of_long_instances_are_sound() {
    let instances = [small(one_dimensional()), small(cutting_stock())].concat();
    assert!(instances.len() >= 8, "only {} instances", instances.len());
    instances.par_iter().for_each(|instance| {
        assert_sound(instance, &layout::quick(&instance.job(), 1));
    });
}

/// The whole search, cut short: whatever it has reached by then is sound.
#[test]
fn plans_of_published_instances_are_sound_when_time_runs_out() {
    let flat = two_dimensional().into_iter().step_by(6);
    let long = small(cutting_stock())
        .into_iter()
        .chain(one_dimensional().into_iter().take(1));
    for instance in flat.chain(long) {
        let request = Request {
            time: Some(Duration::from_secs(1)),
            ..Request::default()
        };
        assert_sound(&instance, &layout::plan(&instance.job(), &request, &Silent));
    }
}

/// Small enough to be proved at once, whatever the machine.
#[test]
fn textbook_examples_are_solved() {
    for instance in cutting_stock()
        .into_iter()
        .filter(|i| i.items.len() <= 1500)
    {
        let plan = layout::plan(&instance.job(), &Request::default(), &Silent);
        assert_sound(&instance, &plan);
        assert_eq!(
            Some(plan.totals.boards_used),
            instance.optimum,
            "{}",
            instance.name
        );
        assert!(plan.totals.proved, "{}", instance.name);
    }
}

/// Many small items in few large boards: packed and proved by their area within a moment, into the
/// same plan on any number of threads.
#[test]
fn few_large_boards_are_filled() {
    let names = [
        "CLASS02_060_02",
        "CLASS04_040_01",
        "CLASS04_060_02",
        "CLASS06_040_01",
        "CLASS06_060_02",
        "CLASS10_040_01",
    ];
    let mut instances = two_dimensional();
    instances.retain(|instance| names.contains(&instance.name.as_str()));
    assert_eq!(instances.len(), names.len());
    for instance in instances {
        let on = |threads: usize| {
            let request = Request {
                threads,
                ..Request::default()
            };
            layout::plan(&instance.job(), &request, &Silent)
        };
        let plan = on(2);
        assert_sound(&instance, &plan);
        let name = &instance.name;
        assert_eq!(plan.boards, on(1).boards, "{name}: on one thread");
        assert_eq!(plan.totals.boards_used, instance.lower_bound, "{name}");
        assert!(plan.totals.proved, "{name}");
    }
}

/// A board more than their area needs, because the larger items alone need it: a proof that takes far
/// longer with the small ones. That they need it a general solver says as well
/// (`tests/reference/larger_items.py`).
#[test]
fn larger_items_show_that_no_board_can_be_spared() {
    let names = [
        ("CLASS03_040_01", 7),
        ("CLASS03_040_02", 9),
        ("CLASS10_040_02", 8),
        ("CLASS10_060_01", 12),
        ("CLASS10_060_02", 13),
    ];
    for instance in two_dimensional() {
        let named = names.iter().find(|(name, _)| *name == instance.name);
        let Some((name, boards)) = named else {
            continue;
        };
        let plan = layout::plan(&instance.job(), &Request::default(), &Silent);
        assert_sound(&instance, &plan);
        assert_eq!(plan.totals.boards_used, *boards, "{name}");
        assert!(plan.totals.proved, "{name}");
    }
}
