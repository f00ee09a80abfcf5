//! No cut of a tight plan can be moved unseen.

use proptest::prelude::*;

use super::*;

/// Every length in the plan that says where a cut goes, one by one.
fn coordinate(plan: &mut Plan, which: usize) -> Option<&mut Length> {
    let mut all: Vec<&mut Length> = Vec::new();
    for planned in &mut plan.boards {
        for kept in &mut planned.kept {
            let sides = [&mut kept.from, &mut kept.to, &mut kept.low, &mut kept.high];
            all.extend(sides);
        }
        for section in &mut planned.sections {
            all.extend([&mut section.from, &mut section.to]);
            for strip in &mut section.strips {
                all.extend([&mut strip.low, &mut strip.high]);
                for blank in &mut strip.blanks {
                    let sides = [
                        &mut blank.from,
                        &mut blank.to,
                        &mut blank.low,
                        &mut blank.high,
                    ];
                    all.extend(sides);
                }
            }
        }
    }
    all.into_iter().nth(which)
}

proptest! {
    /// The plan is as tight as can be: moving any one coordinate, either way, breaks a rule.
    #[test]
    fn moving_any_one_cut_is_caught(which in 0usize..52, nanometres in -3000i64..3000) {
        prop_assume!(nanometres != 0);
        for scale in [1, 25_400] {
            let mut moved = plan();
            *coordinate(&mut moved, which).expect("52 coordinates") +=
                Length::from_nm(nanometres * scale);
            retotal(&mut moved, &job());
            prop_assert!(!broken(&job(), &moved).is_empty());
        }
    }
}
