//! Which of an opening's measurements is most likely wrong.

use super::least_squares::settle;
use crate::job::{Measure, Measured};
use crate::measure::Length;

/// The measurement that is most likely wrong, and about what the others make it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Suspect {
    /// Which one.
    pub measure: Measure,
    /// What it would be if the opening were a rectangle.
    pub expected: Length,
}

/// The opening as it was drawn, before it was measured. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// Width.
    pub width: f64,
    /// Height at the left.
    pub left: f64,
    /// How much higher it is at the right: nothing but under a shared arch.
    pub higher: f64,
}

/// How much the drawn size counts beside a measured one: enough to decide between two
/// measurements that accuse each other, too little to overrule a third.
const DRAWN_COUNTS: f64 = 0.1;

/// The measurement without which the others come nearest to the shape drawn.
///
/// Openings are meant to be rectangles (slices of an arch to have upright sides), and one
/// misread tape is likelier than two.
pub(crate) fn likeliest(measured: &Measured, drawn: &Drawn) -> Suspect {
    let without = |left_out| {
        let shape = nearest(measured, drawn, left_out);
        let squares = misses(measured, drawn, left_out, &shape);
        let miss: f64 = squares.iter().map(|d| d * d).sum();
        let expected = Length::from_mm(as_drawn(left_out, &shape));
        (
            miss,
            Suspect {
                measure: left_out,
                expected,
            },
        )
    };
    let sides = [Measure::Left, Measure::Right, Measure::Top, Measure::Bottom];
    let diagonals = [Measure::DiagonalUp, Measure::DiagonalDown];
    let taken = diagonals.into_iter().filter(|&m| measured.of(m).is_some());
    let first = without(sides[0]);
    let others = sides.into_iter().skip(1).chain(taken).map(without);
    let better = |best: (f64, Suspect), next: (f64, Suspect)| match next.0 < best.0 {
        true => next,
        false => best,
    };
    others.fold(first, better).1
}

/// The shape nearest to all measurements but one.
fn nearest(measured: &Measured, drawn: &Drawn, left_out: Measure) -> Drawn {
    let at = |x: &[f64; 2]| Drawn {
        width: x[0],
        left: x[1],
        ..*drawn
    };
    let start = [drawn.width, drawn.left];
    let off = |x: &[f64; 2]| misses(measured, drawn, left_out, &at(x));
    at(&settle(start, off).unwrap_or(start))
}

fn misses(measured: &Measured, drawn: &Drawn, left_out: Measure, shape: &Drawn) -> Vec<f64> {
    let kept = Measure::ALL.into_iter().filter(|&m| m != left_out);
    let mut off: Vec<f64> = kept
        .filter_map(|m| Some(as_drawn(m, shape) - measured.of(m)?.mm()))
        .collect();
    off.push(DRAWN_COUNTS * (shape.width - drawn.width));
    off.push(DRAWN_COUNTS * (shape.left - drawn.left));
    off
}

/// What a measurement of a shape would be.
fn as_drawn(measure: Measure, shape: &Drawn) -> f64 {
    let right = shape.left + shape.higher;
    match measure {
        Measure::Left => shape.left,
        Measure::Right => right,
        Measure::Top => shape.width.hypot(shape.higher),
        Measure::Bottom => shape.width,
        Measure::DiagonalUp => shape.width.hypot(right),
        Measure::DiagonalDown => shape.width.hypot(shape.left),
    }
}
