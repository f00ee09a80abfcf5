use super::*;
use crate::photo::picture::Picture;
use crate::photo::plane::Point;

const GROUND: [u8; 3] = [60, 66, 72];

/// Boards of one colour with corners at known places, on `ground`.
fn picture(boards: &[[(f64, f64); 4]], ground: impl Fn(usize, usize) -> [u8; 3]) -> Picture {
    let (width, height) = (900, 400);
    let inside = |corners: &[(f64, f64); 4], x: f64, y: f64| {
        (0..4).all(|i| {
            let ((ax, ay), (bx, by)) = (corners[i], corners[(i + 1) % 4]);
            // The corners go round as the near edge is at the bottom: against the clock as seen.
            (bx - ax) * (y - ay) - (by - ay) * (x - ax) <= 0.0
        })
    };
    let bytes = (0..width * height).flat_map(|at| {
        let (x, y) = (at % width, at / width);
        let (cx, cy) = (x as f64 + 0.5, y as f64 + 0.5);
        match boards.iter().any(|b| inside(b, cx, cy)) {
            true => [190, 140 + (y % 3) as u8 * 5, 90],
            false => ground(x, y),
        }
    });
    Picture::new(width, height, bytes.collect()).unwrap()
}

const BOARD: [(f64, f64); 4] = [
    (101.0, 262.0),
    (803.0, 250.0),
    (800.0, 141.0),
    (98.0, 149.0),
];

#[test]
fn a_board_on_plain_ground_is_found_within_a_pixel() {
    let found = find_boards(&picture(&[BOARD], |_, _| GROUND), &[(64.0, 10.0)]);
    let found = found[0].unwrap();
    assert!(found.confidence > SURE, "{}", found.confidence);
    for (corner, (x, y)) in found.corners.iter().zip(BOARD) {
        assert!(
            corner.distance(Point::new(x, y)) < 1.0,
            "{corner:?} for {x} {y}"
        );
    }
}

#[test]
fn other_proportions_rough_ground_and_cut_boards_are_not_sure() {
    let sure = |picture: &Picture, size| {
        let found = find_boards(picture, &[size]);
        found[0].map_or(0.0, |found| found.confidence)
    };
    let plain = picture(&[BOARD], |_, _| GROUND);
    assert!(sure(&plain, (96.0, 7.0)) < SURE);
    let bench = picture(&[BOARD], |x, y| {
        let plank = (y / 37 % 3 * 30 + x / 5 % 2 * 25) as u8;
        [150 + plank, 105 + plank, 60 + plank]
    });
    assert!(sure(&bench, (64.0, 10.0)) < SURE);
    let cut = [
        (-40.0, 262.0),
        (803.0, 250.0),
        (800.0, 141.0),
        (-40.0, 149.0),
    ];
    assert!(sure(&picture(&[cut], |_, _| GROUND), (75.0, 10.0)) < SURE);
    assert!(sure(&picture(&[], |_, _| GROUND), (64.0, 10.0)) < SURE);
}

#[test]
fn two_boards_are_told_from_the_top_down() {
    let moved = |by: f64| BOARD.map(|(x, y)| (x, y + by));
    let both = picture(&[moved(-110.0), moved(80.0)], |_, _| GROUND);
    let found = find_boards(&both, &[(64.0, 10.0), (64.0, 10.0)]);
    let [Some(first), Some(second)] = found[..] else {
        panic!("two boards")
    };
    assert!(first.corners[0].y < second.corners[0].y);
    assert!(first.confidence > SURE && second.confidence > SURE);
    // One of two alike may be either.
    let one = find_boards(&both, &[(64.0, 10.0)]);
    assert!(one[0].unwrap().confidence < SURE);
}
