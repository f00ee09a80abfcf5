use super::*;
use crate::photo::plane::{Point, Window};

const BOARD: Window = Window {
    from: 0.0,
    to: 96.0,
    low: 0.0,
    high: 7.0,
};

/// Light that falls off along and across, with a cast; its logarithm is a quadratic.
fn light(place: Point) -> [f32; 3] {
    let x = (place.x - 40.0) / 96.0;
    let fall = (-0.8 * x * x - 0.02 * place.y + 0.0004 * place.x * place.y).exp();
    [0.8, 0.7, 0.5].map(|c| (c * fall) as f32)
}

fn paper(places: impl Iterator<Item = (f64, f64)>) -> Vec<Paper> {
    let bit = |(x, y)| Paper {
        place: Point::new(x, y),
        light: light(Point::new(x, y)),
    };
    places.map(bit).collect()
}

fn strips(near: bool, far: bool) -> Vec<Paper> {
    let along = (0..192).map(|at| f64::from(at) / 2.0);
    paper(along.flat_map(|x| {
        let near = near.then_some((x, -1.0));
        near.into_iter().chain(far.then_some((x, 8.0)))
    }))
}

/// How far the middle of the board is off, as a part of the light.
fn off(paper: &[Paper]) -> f32 {
    let fitted = Light::fit(paper, BOARD).unwrap();
    let places = (0..20).map(|at| Point::new(f64::from(at) * 5.0, 3.5));
    let off = |place| (fitted.at(place)[1] / light(place)[1] - 1.0).abs();
    places.map(off).fold(0.0, f32::max)
}

#[test]
fn strips_along_both_edges_tell_all_of_the_light() {
    let paper = strips(true, true);
    assert_eq!(Cover::of(&paper, BOARD).missing(), Missing::Nothing);
    assert!(off(&paper) < 1e-3);
}

#[test]
fn less_paper_tells_less_and_says_so() {
    let one_edge = strips(true, false);
    assert_eq!(Cover::of(&one_edge, BOARD).missing(), Missing::Edges);
    assert!(off(&one_edge) > 0.02);
    let one_end = paper((0..40).map(|at| (-2.0 + f64::from(at % 4) / 2.0, f64::from(at / 4))));
    assert_eq!(Cover::of(&one_end, BOARD).missing(), Missing::OtherEnd);
    assert!(off(&one_end) > 0.1);
    assert_eq!(Light::fit(&[], BOARD), None);
    let order = [
        Missing::Nothing,
        Missing::Edges,
        Missing::OtherEnd,
        Missing::All,
    ];
    assert!(
        order
            .windows(2)
            .all(|w| w[0].uncertain() < w[1].uncertain())
    );
}

#[test]
fn what_is_not_paper_is_left_out() {
    let mut paper = strips(true, true);
    for bit in paper.iter_mut().step_by(6) {
        bit.light = bit.light.map(|c| c * 0.6);
    }
    assert!(off(&paper) < 2e-3);
}
