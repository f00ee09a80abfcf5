//! An opening's shape from its measured sides and diagonals.

use serde::Serialize;

use super::least_squares::settle;
use super::point::{Point, apex};
use super::quad::Quad;
use super::suspect::{self, Drawn, Suspect};
use crate::job::Measured;
use crate::measure::Length;

/// An opening whose corners are known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solved {
    /// Its corners.
    pub quad: Quad,
    /// What had to be assumed.
    pub assumed: Assumed,
    /// With both diagonals: how much the second one measured differs from what the other five
    /// measurements make it, the one figure by which six measurements can disagree.
    pub disagreement: Option<Length>,
    /// With both diagonals: the most any measurement was adjusted by.
    pub adjusted: Option<Length>,
}

/// What had to be assumed to find the corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Assumed {
    /// Nothing: a diagonal was measured.
    Nothing,
    /// No diagonal was measured, so the lower left corner is taken as square.
    LowerLeftSquare,
}

/// Why measurements are those of no opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoQuad {
    /// What is impossible about them.
    pub fault: Impossible,
    /// The measurement that is most likely wrong.
    pub suspect: Suspect,
}

/// What is impossible about an opening's measurements.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Impossible {
    /// The sides do not reach round to close.
    CannotClose,
    /// They close only with a corner pointing inwards.
    Dented,
    /// The two diagonals contradict each other by this much.
    DiagonalsDisagree(Length),
}

/// Six measurements that disagree by more than this (or by a hundredth of the diagonal) are not
/// shared out but refused: one of them was misread.
const MISREAD: f64 = 6.35;

/// Finds the corners of an opening.
///
/// One diagonal fixes them; both are one measurement too many, and the disagreement is shared
/// out by least squares; without any, the lower left corner is taken as square. `drawn` only
/// helps to name a wrong measurement.
///
/// # Errors
/// When no convex quadrilateral has these sides and diagonals.
pub fn solve(measured: &Measured, drawn: &Drawn) -> Result<Solved, NoQuad> {
    let wrong = |fault| NoQuad {
        fault,
        suspect: suspect::likeliest(measured, drawn),
    };
    let solved = match (measured.diagonal_up, measured.diagonal_down) {
        (None, None) => from_square_corner(measured).map(|q| exact(q, Assumed::LowerLeftSquare)),
        (Some(up), None) => from_diagonal_up(measured, up).map(|q| exact(q, Assumed::Nothing)),
        (None, Some(down)) => {
            from_diagonal_down(measured, down).map(|q| exact(q, Assumed::Nothing))
        }
        (Some(up), Some(down)) => shared_out(measured, up, down),
    };
    let solved = solved.ok_or_else(|| wrong(Impossible::CannotClose))?;
    if let Some(disagreement) = solved.disagreement {
        let allowed = MISREAD.max(0.01 * solved.quad.diagonal_up());
        if disagreement.mm().abs() > allowed {
            return Err(wrong(Impossible::DiagonalsDisagree(disagreement)));
        }
    }
    if solved.quad.is_convex() {
        Ok(solved)
    } else {
        Err(wrong(Impossible::Dented))
    }
}

fn exact(quad: Quad, assumed: Assumed) -> Solved {
    Solved {
        quad,
        assumed,
        disagreement: None,
        adjusted: None,
    }
}

fn quad(lower_right: Point, upper_right: Point, upper_left: Point) -> Quad {
    Quad {
        lower_left: Point::default(),
        lower_right,
        upper_right,
        upper_left,
    }
}

fn from_square_corner(m: &Measured) -> Option<Quad> {
    let lower_right = Point::new(m.bottom.mm(), 0.0);
    let upper_left = Point::new(0.0, m.left.mm());
    let upper_right = apex(upper_left, lower_right, m.top.mm(), m.right.mm())?;
    Some(quad(lower_right, upper_right, upper_left))
}

fn from_diagonal_up(m: &Measured, diagonal: Length) -> Option<Quad> {
    let lower_left = Point::default();
    let lower_right = Point::new(m.bottom.mm(), 0.0);
    let upper_right = apex(lower_left, lower_right, diagonal.mm(), m.right.mm())?;
    let upper_left = apex(lower_left, upper_right, m.left.mm(), m.top.mm())?;
    Some(quad(lower_right, upper_right, upper_left))
}

fn from_diagonal_down(m: &Measured, diagonal: Length) -> Option<Quad> {
    let lower_left = Point::default();
    let lower_right = Point::new(m.bottom.mm(), 0.0);
    let upper_left = apex(lower_left, lower_right, m.left.mm(), diagonal.mm())?;
    let upper_right = apex(upper_left, lower_right, m.top.mm(), m.right.mm())?;
    Some(quad(lower_right, upper_right, upper_left))
}

/// The quadrilateral that misses all six measurements the least, in the sense of least squares.
fn shared_out(m: &Measured, up: Length, down: Length) -> Option<Solved> {
    let first = from_diagonal_up(m, up)?;
    let start = [
        first.lower_right.x,
        first.upper_right.x,
        first.upper_right.y,
        first.upper_left.x,
        first.upper_left.y,
    ];
    let at = |x: &[f64; 5]| {
        quad(
            Point::new(x[0], 0.0),
            Point::new(x[1], x[2]),
            Point::new(x[3], x[4]),
        )
    };
    let off = |x: &[f64; 5]| missed_by(&at(x), m, up, down);
    let settled = settle(start, off)?;
    let most = off(&settled).iter().fold(0.0, |a: f64, b| a.max(b.abs()));
    let disagreement = down.mm() - first.diagonal_down();
    Some(Solved {
        quad: at(&settled),
        assumed: Assumed::Nothing,
        disagreement: Some(Length::from_mm(disagreement)),
        adjusted: Some(Length::from_mm(most)),
    })
}

fn missed_by(quad: &Quad, m: &Measured, up: Length, down: Length) -> Vec<f64> {
    let sides = quad.sides();
    vec![
        sides.left - m.left.mm(),
        sides.right - m.right.mm(),
        sides.top - m.top.mm(),
        sides.bottom - m.bottom.mm(),
        quad.diagonal_up() - up.mm(),
        quad.diagonal_down() - down.mm(),
    ]
}
