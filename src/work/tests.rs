//! What leaves a board together, worked out by hand on small boards.

use super::*;
use crate::job::Job;
use crate::measure::Length;
use crate::plan::fixture::{self, blanks, cut, inches};
use crate::plan::{Blank, BoardPlan, Fate, Sawn, SawnPiece, Strip};

/// Fronts of the fixture on its board A (96 x 8 in, flat), one strip.
fn on_a(fronts: &[(usize, f64)]) -> BoardPlan {
    cut(0, 1, blanks(fronts, 2.0, 0.125, 6.375), [0.0, 0.0, 0.0])
}

fn sawn(cut: &BoardPlan, which: &[(usize, Fate)]) -> Sawn {
    let section = &cut.sections[0];
    let strip = &section.strips[0];
    let piece = |&(at, fate): &(usize, Fate)| SawnPiece {
        board: cut.board,
        copy: cut.copy,
        section: (section.from, section.to),
        strip: (strip.low, strip.high),
        blank: strip.blanks[at].clone(),
        fate,
    };
    Sawn {
        pieces: which.iter().map(piece).collect(),
        ..Sawn::default()
    }
}

/// Number of blanks, from, to, whether cut: of each piece of the first strip.
fn pieces(job: &Job, cut: &BoardPlan, sawn: Option<&Sawn>) -> Vec<(usize, f64, f64, bool)> {
    let work = BoardWork::of(job, cut, sawn);
    let told = work.pieces().map(|(.., piece)| {
        let (from, to) = (piece.from.inches(), piece.to.inches());
        (piece.blanks.len(), from, to, piece.cut)
    });
    told.collect()
}

#[test]
fn short_neighbours_leave_together_and_long_ones_alone() {
    let job = fixture::job();
    // 7 and 7 and a blade between: 14 1/8 together.
    assert_eq!(
        pieces(&job, &on_a(&[(2, 7.0), (3, 7.0)]), None),
        [(2, 2.0, 16.125, false)]
    );
    let alone = [(1, 2.0, 23.0, false), (1, 23.125, 44.125, false)];
    assert_eq!(pieces(&job, &on_a(&[(0, 21.0), (1, 21.0)]), None), alone);
}

#[test]
fn a_short_front_keeps_the_waste_beside_it_up_to_the_shortest_safe_length() {
    let job = fixture::job();
    let mut planned = on_a(&[(2, 9.0)]);
    planned.sections[0].to = inches(30.0);
    assert_eq!(pieces(&job, &planned, None), [(1, 2.0, 14.0, false)]);
    // At the far end of its strip the waste before it is taken.
    let blank = &mut planned.sections[0].strips[0].blanks[0];
    (blank.from, blank.to) = (inches(21.0), inches(30.0));
    assert_eq!(pieces(&job, &planned, None), [(1, 18.0, 30.0, false)]);
}

/// 9 in of blank, and 3/8 in beside it before the blade of a blank that is lost: what is left is
/// told, not what there should be.
#[test]
fn what_is_left_beside_a_lost_blank_is_told_as_it_is() {
    let job = fixture::job();
    let mut planned = on_a(&[(2, 9.0), (0, 21.0)]);
    let blank = &mut planned.sections[0].strips[0].blanks[1];
    (blank.from, blank.to) = (inches(11.5), inches(32.5));
    planned.sections[0].to = inches(32.5);
    let lost = sawn(&planned, &[(1, Fate::Spoiled)]);
    planned.sections[0].strips[0].blanks.pop();
    assert_eq!(
        pieces(&job, &planned, Some(&lost)),
        [(1, 2.0, 11.375, false)]
    );
}

#[test]
fn a_front_sawn_off_alone_is_as_short_as_it_is_and_the_others_stay_joined() {
    let job = fixture::job();
    let mut planned = on_a(&[(2, 7.0), (3, 7.0), (2, 7.0)]);
    planned.sections[0].strips[0].blanks[2].front = 3;
    planned.sections[0].strips[0].blanks[2].stave = 1;
    let alone = sawn(&planned, &[(0, Fate::Cut)]);
    let found = pieces(&job, &planned, Some(&alone));
    assert_eq!(found, [(1, 2.0, 9.0, true), (2, 9.125, 23.25, false)]);
}

fn rips_of(strips: &[(f64, f64)], done: &[bool]) -> Vec<(usize, f64, RipKind)> {
    let strips: Vec<Strip> = strips
        .iter()
        .map(|&(low, high)| Strip {
            low: inches(low),
            high: inches(high),
            blanks: Vec::<Blank>::new(),
        })
        .collect();
    let works: Vec<StripWork> = strips
        .iter()
        .zip(done)
        .enumerate()
        .map(|(index, (strip, &done))| StripWork {
            number: index + 1,
            strip,
            done,
            pieces: Vec::new(),
        })
        .collect();
    let rips = rips::rips(&works, inches(0.125));
    rips.iter()
        .map(|rip| (rip.strip, rip.at.inches(), rip.kind))
        .collect()
}

fn fence(at: f64, with_waste: bool) -> RipKind {
    let at: Length = inches(at);
    RipKind::Fence { at, with_waste }
}

#[test]
fn strips_side_by_side_need_one_straight_edge_and_a_fence() {
    let found = rips_of(&[(0.125, 3.375), (3.5, 6.0)], &[false, false]);
    let expected = [
        (1, 0.125, RipKind::Chalk),
        (1, 3.375, fence(3.25, false)),
        (2, 6.0, fence(2.5, false)),
    ];
    assert_eq!(found, expected);
}

#[test]
fn a_strip_past_waste_is_ripped_with_it_and_then_turned() {
    let found = rips_of(&[(2.0, 7.0), (7.75, 12.0)], &[false, false]);
    let expected = [
        (1, 2.0, RipKind::Chalk),
        (1, 7.0, fence(5.0, false)),
        (2, 12.0, fence(4.875, true)),
        (2, 7.75, RipKind::Turned { at: inches(4.25) }),
    ];
    assert_eq!(found, expected);
}

/// The second strip is cut already: its saw kerf made the first one's far edge.
#[test]
fn a_strip_beside_one_that_is_cut_is_ripped_from_the_sawn_edge() {
    let found = rips_of(&[(0.125, 3.375), (3.5, 6.0)], &[false, true]);
    assert_eq!(found, [(1, 0.125, RipKind::Turned { at: inches(3.25) })]);
    let between = rips_of(
        &[(0.125, 3.0), (3.125, 5.0), (5.125, 7.0)],
        &[true, false, true],
    );
    assert_eq!(between, [], "free on both sides");
}
