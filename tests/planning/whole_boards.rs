//! Jobs whose cost is so many whole boards, against every way of cutting them.
//!
//! Nothing is kept and looks count nothing: what is left to decide is which fronts share a board. The
//! solver here knows only that a board is crosscut into sections, a section ripped into strips and
//! a strip crosscut into blanks, and tries all of it.

use crate::common::instances::Instance;
use grainrow::job::{Board, Job};
use grainrow::layout::{self, Request, Silent};
use grainrow::measure::Length;
use grainrow::plan::{Limits, check};
use proptest::prelude::*;

/// Length and width, in inches.
type Size = (i64, i64);

/// The least area of whole boards, each of one of the `kinds`, that `items` can be cut from.
fn least_area(kinds: &[Size], items: &[Size]) -> i64 {
    let sets = 1usize << items.len();
    let board = |kind: &Size| -> Vec<bool> {
        let sections: Vec<Option<i64>> = (0..sets).map(|set| section(set, kind.1, items)).collect();
        let longs = least(sets, |part| sections[part]);
        longs
            .iter()
            .map(|long| long.is_some_and(|long| long <= kind.0))
            .collect()
    };
    let fits: Vec<Vec<bool>> = kinds.iter().map(board).collect();
    let areas = |set: usize| {
        let fitting = kinds.iter().zip(&fits).filter(|(_, fits)| fits[set]);
        fitting.map(|(kind, _)| kind.0 * kind.1).min()
    };
    least(sets, areas)[sets - 1].expect("every item fits a board by itself")
}

/// The least sum over the parts that each set is divided into, where `of` says what a part counts, if it
/// may be.
fn least(sets: usize, of: impl Fn(usize) -> Option<i64>) -> Vec<Option<i64>> {
    let mut best = vec![Some(0); sets];
    for set in 1..sets {
        let parts = parts(set).filter_map(|part| Some(of(part)? + best[set ^ part]?));
        best[set] = parts.min();
    }
    best
}

/// The subsets of a set that have its first member.
fn parts(set: usize) -> impl Iterator<Item = usize> {
    let first = set & set.wrapping_neg();
    (1..=set).filter(move |part| part & set == *part && part & first != 0)
}

/// How short a section can be whose strips give just this set.
fn section(set: usize, wide: i64, items: &[Size]) -> Option<i64> {
    if set == 0 {
        return Some(0);
    }
    let among = |part: usize| (0..items.len()).filter(move |at| part >> at & 1 == 1);
    let strips = parts(set).filter_map(|part| {
        let long: i64 = among(part).map(|at| items[at].0).sum();
        let width = among(part).map(|at| items[at].1).max()?;
        let rest = (width <= wide).then(|| section(set ^ part, wide - width, items))?;
        Some(rest?.max(long))
    });
    strips.min()
}

/// As many boards of every size as there are items.
fn job(kinds: &[Size], items: &[Size]) -> Job {
    let instance = Instance {
        name: "whole boards".to_owned(),
        board: kinds[0],
        items: items.to_vec(),
        lower_bound: 0,
        optimum: None,
    };
    let mut job = instance.job();
    let inches = |whole: i64| Length::from_nm(whole * 25_400_000);
    let other = |(index, &(long, wide)): (usize, &Size)| Board {
        id: format!("board {index}"),
        length: inches(long),
        width: inches(wide),
        ..job.boards[0].clone()
    };
    job.boards = kinds.iter().enumerate().map(other).collect();
    job
}

fn assert_least(kinds: &[Size], items: &[Size]) {
    let job = job(kinds, items);
    let plan = layout::plan(&job, &Request::default(), &Silent);
    check(&job, &plan, false, &Limits::default()).expect("a plan that can be cut");
    assert_eq!(plan.totals.made, items.len());
    let area = plan.totals.cost * 144.0;
    let least = least_area(kinds, items) as f64;
    assert!(
        (area - least).abs() < 1e-6,
        "{area} for {least}: {kinds:?} {items:?}"
    );
    assert!(plan.totals.proved, "not proved: {kinds:?} {items:?}");
}

/// Small enough to be seen at a glance.
#[test]
fn the_solver_counts_right_by_hand() {
    assert_eq!(least_area(&[(10, 10)], &[(5, 5); 4]), 100);
    assert_eq!(least_area(&[(10, 10)], &[(5, 5); 5]), 200);
    // Each on its own strip of one section, and one more as a section of its own.
    assert_eq!(least_area(&[(10, 10)], &[(6, 4), (6, 6), (4, 10)]), 100);
    assert_eq!(least_area(&[(10, 10)], &[(6, 4), (6, 7), (4, 10)]), 200);
    // A pinwheel has no cut from edge to edge.
    let pinwheel = [(6, 4), (4, 6), (6, 4), (4, 6), (2, 2)];
    assert_eq!(least_area(&[(10, 10)], &pinwheel), 200);
    // The smaller board will do for one of them.
    assert_eq!(least_area(&[(10, 10), (6, 6)], &[(10, 10), (6, 6)]), 136);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn as_few_boards_as_can_be(items in prop::collection::vec((2i64..=9, 2i64..=9), 1..8)) {
        assert_least(&[(10, 10)], &items);
    }

    #[test]
    fn as_little_area_of_boards_of_two_sizes(
        items in prop::collection::vec((2i64..=9, 2i64..=7), 1..8),
        other in (4i64..=12, 4i64..=7),
    ) {
        assert_least(&[(10, 8), other], &items);
    }
}
