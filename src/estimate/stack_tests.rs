use super::super::lot::lots;
use super::super::tests::{inches, job, plain_yard};
use super::super::{Ask, Silent, estimate};
use super::*;
use crate::job::Mix;
use crate::layout::{Request, plan};

fn of_lengths(lengths: &[(f64, f64)]) -> Yard {
    let mut yard = plain_yard(Mix::of(inches(48.0), inches(48.0)));
    let part = |&(length, share): &(f64, f64)| {
        let at = inches(length);
        (Mix::of(at, at).parts[0].0, share)
    };
    yard.length.parts = lengths.iter().map(part).collect();
    yard
}

fn look(job: &Job, sizes: &[usize], trials: usize, seed: u64) -> Vec<Stack> {
    let ask = Ask {
        look_through: sizes.to_vec(),
        trials,
        seed,
        ..Ask::default()
    };
    estimate(job, &ask, &Silent).unwrap().stacks
}

#[test]
fn boards_of_one_size_suffice_from_a_certain_number_on() {
    let job = job(of_lengths(&[(48.0, 1.0)]), &[&[40.0_f64][..]; 7]);
    let stacks = look(&job, &[10, 6, 7], 20, 1);
    let told = |at: usize| {
        (
            stacks[at].look_through,
            stacks[at].suffices,
            stacks[at].feet.half,
        )
    };
    // 4 ft by 6 in: surface measure 2; seven of them.
    assert_eq!(told(0), (6, 0.0, None));
    assert_eq!(told(1), (7, 1.0, Some(14.0)));
    assert_eq!(told(2), (10, 1.0, Some(14.0)));
}

#[test]
fn the_chance_that_a_stack_suffices_is_that_of_one_good_board_in_it() {
    // A front of 40 in is cut from 48 in, and not from 36: of n boards one is long with chance 1 - (1/2)^n.
    let job = job(of_lengths(&[(36.0, 1.0), (48.0, 1.0)]), &[&[40.0]]);
    for (stack, chance) in look(&job, &[1, 2, 4], 600, 5)
        .iter()
        .zip([0.5, 0.75, 0.9375])
    {
        let [low, high] = stack.suffices_between;
        assert!(low <= chance && chance <= high, "{stack:?} {chance}");
    }
}

#[test]
fn the_best_of_a_stack_is_its_least_order_statistic() {
    // Surface measures 2, 3, 4 and 5, all as likely, and one board is enough: the least of three is at most 2 with
    // chance 1 - (3/4)^3 = 0.578, at most 3 with 0.875, at most 4 with 0.984.
    let yard = of_lengths(&[(48.0, 1.0), (72.0, 1.0), (96.0, 1.0), (120.0, 1.0)]);
    let job = job(yard, &[&[40.0]]);
    let stack = &look(&job, &[3], 1000, 3)[0];
    let feet = &stack.feet;
    let told = [
        feet.half,
        feet.four_of_five,
        feet.nine_of_ten,
        feet.nineteen_of_twenty,
    ];
    assert_eq!(told, [Some(2.0), Some(3.0), Some(4.0), Some(4.0)]);
}

/// Runs of mixed sizes from boards of mixed sizes.
fn mixed() -> Job {
    let mut yard = of_lengths(&[(60.0, 1.0), (84.0, 2.0), (96.0, 1.0)]);
    yard.width.parts = [(6.0, 2.0), (7.5, 1.0)]
        .map(|(wide, share)| (Mix::of(inches(wide), inches(wide)).parts[0].0, share))
        .to_vec();
    job(
        yard,
        &[&[14.0, 14.0, 14.0], &[20.0, 20.0], &[30.0], &[12.0, 9.0]],
    )
}

#[test]
fn a_larger_stack_never_needs_more_and_seeds_agree() {
    let job = mixed();
    let told: Vec<Vec<Stack>> = (1..=3)
        .map(|seed| look(&job, &[3, 6, 12], 60, seed))
        .collect();
    for stacks in &told {
        for pair in stacks.windows(2) {
            assert!(pair[0].suffices <= pair[1].suffices);
            let all = pair[0].percentiles.iter().zip(&pair[1].percentiles);
            for (small, large) in all {
                assert!(
                    small
                        .value
                        .is_none_or(|feet| large.value.is_some_and(|l| l <= feet))
                );
            }
        }
    }
    let middle = |stacks: &[Stack]| stacks[2].percentiles[0];
    for one in &told {
        for other in &told {
            let (one, other) = (middle(one), middle(other));
            assert!(
                one.low <= other.high && other.low <= one.high,
                "{one:?} {other:?}"
            );
        }
    }
}

/// What is chosen fast is never less than the proved least, and on the whole not much more.
#[test]
fn a_choice_is_never_below_the_proved_one() {
    let job = mixed();
    let lot = &lots(&job).unwrap()[0];
    let mut sums = (0.0, 0.0);
    for trial in 0..12 {
        let mut stack = lot.job.clone();
        let mut pile = Pile::new(&job.settings.yard, lot.on_sale.thickness, 9, trial);
        stack.boards = (0..6).map(|_| pile.board()).collect();
        let chosen = layout::choose(&stack, LOOKS, &|| false);
        stack
            .boards
            .iter_mut()
            .for_each(|board| board.price = Some(1.0));
        stack.settings.worth.unbroken = 1e3;
        (
            stack.settings.worth.tone_run,
            stack.settings.worth.tone_case,
        ) = (0.0, 0.0);
        let request = Request {
            by_money: true,
            ..Request::default()
        };
        let best = plan(&stack, &request, &crate::layout::Silent);
        assert!(best.totals.proved);
        assert_eq!(
            (chosen.missing, chosen.breaks),
            (best.not_made.len(), best.totals.breaks)
        );
        let feet = |boards: &[usize]| -> f64 {
            let feet = boards
                .iter()
                .map(|&at| stack.volume_of(&stack.boards[at]).value());
            feet.sum()
        };
        let proved: Vec<usize> = best.boards.iter().map(|cut| cut.board).collect();
        let (fast, proved) = (feet(&chosen.boards), feet(&proved));
        assert!(fast >= proved - 1e-9, "{fast} {proved}");
        sums = (sums.0 + fast, sums.1 + proved);
    }
    assert!(sums.0 < 1.08 * sums.1, "{sums:?}");
}
