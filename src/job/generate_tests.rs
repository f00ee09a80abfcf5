//! Invented jobs are what they are said to be.

use super::Board;
use super::generate::{Size, blank_face, generate};
use crate::measure::Length;

#[test]
fn equal_seeds_give_equal_jobs_and_others_do_not() {
    assert_eq!(generate(Size::CHEST, 7), generate(Size::CHEST, 7));
    assert_ne!(generate(Size::CHEST, 7), generate(Size::CHEST, 8));
}

#[test]
fn a_job_has_the_size_asked_for_and_every_front_stands_in_one_run() {
    for seed in 0..20 {
        let job = generate(Size::KITCHEN, seed);
        assert_eq!(job.fronts.len(), 60);
        assert_eq!(job.runs.len(), 15);
        assert_eq!(job.boards.len(), 40);
        let placed: Vec<usize> = job.runs.iter().flat_map(|r| r.fronts.clone()).collect();
        assert_eq!(placed, (0..60).collect::<Vec<_>>());
    }
}

#[test]
fn defects_lie_on_their_board() {
    for seed in 0..20 {
        for board in generate(Size::KITCHEN, seed).boards {
            for defect in &board.defects {
                assert!(Length::ZERO <= defect.from && defect.from < defect.to);
                assert!(Length::ZERO <= defect.low && defect.low < defect.high);
                assert!(defect.to <= board.length && defect.high <= board.width);
            }
        }
    }
}

#[test]
fn the_pile_is_a_few_times_the_blanks() {
    let ratio = |seed| {
        let job = generate(Size::CHEST, seed);
        let blanks: f64 = job
            .fronts
            .iter()
            .map(|f| blank_face(f, &job.settings))
            .sum();
        let face = |b: &Board| b.length.inches() * b.width.inches();
        job.boards.iter().map(face).sum::<f64>() / blanks
    };
    let ratios: Vec<f64> = (0..50).map(ratio).collect();
    let mean = ratios.iter().sum::<f64>() / 50.0;
    assert!((4.0..6.0).contains(&mean), "mean {mean} of {ratios:?}");
}
