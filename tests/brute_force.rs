//! The exhaustive solver against answers worked out by hand and against the checker, and the
//! optimiser against the exhaustive solver.

mod common;

use common::brute::{area_made, solve};
use common::tiny::{Tiny, tiny};
use grainrow::plan::{Limits, check};

/// Every kind of tiny job, each with how many seeds of it are tried.
fn kinds() -> [(Tiny, u64); 6] {
    let plain = Tiny::default();
    [
        (plain, 80),
        (
            Tiny {
                fronts: 4,
                boards: 3,
                defects: false,
                ..plain
            },
            60,
        ),
        (
            Tiny {
                fronts: 2,
                glue: true,
                ..plain
            },
            80,
        ),
        (
            Tiny {
                fronts: 3,
                boards: 3,
                glue: true,
                defects: false,
                ..plain
            },
            30,
        ),
        (
            Tiny {
                fronts: 4,
                prices: true,
                ..plain
            },
            40,
        ),
        (
            Tiny {
                fronts: 5,
                warp: false,
                ..plain
            },
            30,
        ),
    ]
}

/// The exhaustive solver's plans keep the rules as the checker knows them: two readings of the
/// rules that share no code.
#[test]
fn exhaustive_plans_pass_the_checker() {
    let mut made = 0;
    for (size, seeds) in kinds() {
        for seed in 0..seeds / 2 {
            let job = tiny(size, seed);
            let plan = solve(&job, size.prices);
            let found = check(&job, &plan, size.prices, &Limits::default());
            assert_eq!(found, Ok(()), "{size:?}, seed {seed}");
            made += plan.totals.made;
        }
    }
    assert!(made > 300, "only {made} fronts made in all these jobs");
}
