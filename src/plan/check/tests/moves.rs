//! No cut of a tight plan can be moved unseen.

use proptest::prelude::*;

use super::*;

/// Every length in the plan that says where a cut goes, one by one.
fn coordinate(plan: &mut Plan, which: usize) -> Option<(&mut Length, bool)> {
    let mut all: Vec<(&mut Length, bool)> = Vec::new();
    for planned in &mut plan.boards {
        for kept in &mut planned.kept {
            let sides = [&mut kept.from, &mut kept.to, &mut kept.low, &mut kept.high];
            all.extend(sides.map(|side| (side, false)));
        }
        for section in &mut planned.sections {
            all.extend([&mut section.from, &mut section.to].map(|side| (side, false)));
            for strip in &mut section.strips {
                all.push((&mut strip.low, false));
                all.push((&mut strip.high, true));
                for blank in &mut strip.blanks {
                    let sides = [
                        &mut blank.from,
                        &mut blank.to,
                        &mut blank.low,
                        &mut blank.high,
                    ];
                    all.extend(sides.map(|side| (side, false)));
                }
            }
        }
    }
    all.into_iter().nth(which)
}

proptest! {
    /// The plan is as tight as can be: moving any one coordinate, either way, breaks a rule. The
    /// one exception is a strip's far edge, which may move on into waste as far as the trim.
    #[test]
    fn moving_any_one_cut_is_caught(which in 0usize..52, thousandths in -3000i64..3000) {
        prop_assume!(thousandths != 0);
        let delta = inches(thousandths as f64 / 1000.0);
        let mut moved = plan();
        let (at, is_far_edge) = coordinate(&mut moved, which).expect("52 coordinates");
        *at += delta;
        let now = *at;
        retotal(&mut moved, &job());
        let board_of = |which: usize| match which { 0..=15 => 8.0, 16..=31 => 6.5, _ => 6.0 };
        let harmless = is_far_edge
            && delta > Length::ZERO
            && now <= inches(board_of(which) - 0.125);
        prop_assert_eq!(broken(&job(), &moved).is_empty(), harmless);
    }
}
