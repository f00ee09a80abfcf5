use super::*;
use crate::photo::colour::{Lab, delta_e, to_byte};
use crate::photo::picture::Picture;
use crate::photo::plane::{Point, Window};

const WHOLE: Window = Window {
    from: 0.0,
    to: 30.0,
    low: 0.0,
    high: 5.0,
};
const WOOD: [f32; 3] = [0.38, 0.25, 0.15];

/// A board seen straight on at 30 pixels an inch, three inches of ground around it, strips of paper
/// along both edges; the light falls off and has a cast.
fn picture(paper: bool, cast: [f32; 3]) -> (Picture, View) {
    let (width, height) = (36 * 30, 11 * 30);
    let bytes = (0..width * height).flat_map(|at| {
        let (x, y) = (
            (at % width) as f64 / 30.0 - 3.0,
            8.0 - (at / width) as f64 / 30.0,
        );
        let beside = (-2.0..-0.5).contains(&y) || (5.5..7.0).contains(&y);
        let seen = match () {
            () if (0.0..30.0).contains(&x) && (0.0..5.0).contains(&y) => WOOD,
            () if paper && beside => [0.85; 3],
            () => [0.07; 3],
        };
        let light = (0.95 - 0.012 * x - 0.01 * y) as f32;
        [0, 1, 2].map(|c| to_byte(seen[c] * light * cast[c]))
    });
    let picture = Picture::new(width, height, bytes.collect()).unwrap();
    let corner = |x: f64, y: f64| Point::new((x + 3.0) * 30.0, (8.0 - y) * 30.0);
    let corners = [
        corner(0.0, 0.0),
        corner(30.0, 0.0),
        corner(30.0, 5.0),
        corner(0.0, 5.0),
    ];
    (
        picture,
        View {
            window: WHOLE,
            corners,
            white: None,
        },
    )
}

#[test]
fn paper_along_both_edges_gives_the_woods_own_colour() {
    for cast in [[1.0, 1.0, 1.0], [1.0, 0.8, 0.55]] {
        let (picture, view) = picture(true, cast);
        let sight = see(&picture, &view).unwrap();
        let measured = measure(vec![sight], WHOLE, 6.0).unwrap();
        let off = delta_e(measured.colour.lab, Lab::of_linear(WOOD));
        assert!(off < 0.5, "{cast:?}: {off}");
        assert!(measured.within < 1.0, "{}", measured.within);
        assert!(measured.between() > measured.within);
        assert_eq!(measured.colour.along.len(), 5);
        for along in &measured.colour.along {
            assert!(delta_e(along.lab, Lab::of_linear(WOOD)) < 0.6, "{along:?}");
        }
    }
}

#[test]
fn without_paper_the_tone_is_hardly_known_and_a_rectangle_told_helps() {
    let (bare, view) = picture(false, [1.0, 0.8, 0.55]);
    let sight = see(&bare, &view).unwrap();
    assert!(measure(vec![sight], WHOLE, 6.0).unwrap().within > 10.0);
    let (papered, view) = picture(true, [1.0, 0.8, 0.55]);
    // A rectangle of the far strip of paper, in pixels.
    let white = Some([500.0, 40.0, 580.0, 65.0]);
    let sight = see(&papered, &View { white, ..view }).unwrap();
    let measured = measure(vec![sight], WHOLE, 6.0).unwrap();
    let off = delta_e(measured.colour.lab, Lab::of_linear(WOOD));
    assert!(
        off < 2.0 && (2.0..13.0).contains(&measured.within),
        "{off} {}",
        measured.within
    );
}

#[test]
fn corners_that_are_no_boards_show_nothing() {
    let (picture, view) = picture(true, [1.0; 3]);
    let [a, b, c, d] = view.corners;
    assert!(
        see(
            &picture,
            &View {
                corners: [a, c, b, d],
                ..view
            }
        )
        .is_none()
    );
}
