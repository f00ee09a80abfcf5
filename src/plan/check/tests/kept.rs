//! Rule 6: just what is worth keeping.

use super::*;

#[test]
fn a_kept_piece_too_long_too_short_or_invented_is_caught() {
    assert_eq!(
        spoiled(|plan| plan.boards[0].kept[0].from = inches(44.125)),
        [Rule::Kept]
    );
    assert_eq!(
        spoiled(|plan| plan.boards[0].kept[0].to = inches(93.0)),
        [Rule::Kept]
    );
    assert_eq!(spoiled(|plan| plan.boards[0].kept.clear()), [Rule::Kept]);
    let doubled = spoiled(|plan| {
        let again = plan.boards[0].kept[0];
        plan.boards[0].kept.push(again);
    });
    assert_eq!(doubled, [Rule::Kept]);
}

#[test]
fn a_piece_below_the_least_is_not_kept() {
    // Board C keeps 24.875 by 6.
    let keep = |long, wide| {
        changed(|job, _| {
            job.settings.allowances.keep_offcut = Some(inches(long));
            job.settings.allowances.keep_width = inches(wide);
        })
    };
    assert_eq!(keep(24.875, 6.0), GOOD);
    assert_eq!(keep(25.0, 6.0), [Rule::Kept]);
    assert_eq!(keep(24.0, 6.25), [Rule::Kept]);
    assert_eq!(
        changed(|job, _| job.settings.allowances.keep_offcut = None),
        [Rule::Kept]
    );
}

#[test]
fn a_wide_edge_is_kept() {
    let with_edge = |kept: bool| {
        changed(|job, plan| {
            job.boards[0].width = inches(10.75);
            plan.boards[0].kept[0].high = inches(10.75);
            if kept {
                let edge = crate::plan::Kept {
                    from: inches(2.0),
                    to: inches(44.125),
                    low: inches(6.5),
                    high: inches(10.75),
                };
                plan.boards[0].kept.push(edge);
            }
        })
    };
    assert_eq!(with_edge(true), GOOD);
    assert_eq!(with_edge(false), [Rule::Kept]);
}
