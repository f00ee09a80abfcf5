//! How well two faces agree along a joint: line for line across it, as the eye meets them.

use super::colour::{Lab, delta_e};
use super::plane::Strip;

/// Lines an inch across the joint that are compared.
const LINES: f64 = 20.0;
/// How far into the wood a line is seen, in inches.
const DEEP: f64 = 0.125;

/// The edge of a front: colours from its lower end up.
#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    /// One colour a line.
    pub lines: Vec<Lab>,
}

/// Which way the front lies from its edge, along the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inward {
    /// Towards the far end.
    Far,
    /// Towards the hook end.
    Hook,
}

impl Edge {
    /// The edge at `along` between `low` and `high`, all in inches. Lines count from `low` on, or
    /// from `high` when the front is turned over.
    pub fn of(
        face: &Strip,
        along: f64,
        (low, high): (f64, f64),
        inward: Inward,
        turned: bool,
    ) -> Edge {
        let count = (((high - low) * LINES).round() as usize).max(1);
        let (from, to) = match inward {
            Inward::Far => (along, along + DEEP),
            Inward::Hook => (along - DEEP, along),
        };
        let bounds = |line: usize| low + (high - low) * line as f64 / count as f64;
        let colour = |line: usize| mean(face, (from, to), (bounds(line), bounds(line + 1)));
        let mut lines: Vec<Lab> = (0..count).map(colour).collect();
        if turned {
            lines.reverse();
        }
        Edge { lines }
    }

    /// The mean difference to another edge, in dE00: 2 is seen as another colour, below 1 hardly.
    pub fn difference(&self, other: &Edge) -> f64 {
        let pairs = self.lines.iter().zip(&other.lines);
        let sum: f64 = pairs.map(|(one, two)| delta_e(*one, *two)).sum();
        sum / self.lines.len().min(other.lines.len()).max(1) as f64
    }

    /// How well the figure agrees, whatever the colour: the correlation of lightness, -1 to 1, the
    /// best within a sixth of an inch.
    pub fn alike(&self, other: &Edge) -> f64 {
        (-3..=3)
            .map(|shift| correlation(&self.lines, &other.lines, shift))
            .fold(-1.0, f64::max)
    }
}

fn mean(face: &Strip, (from, to): (f64, f64), (low, high): (f64, f64)) -> Lab {
    let (first, last) = (
        face.column(from),
        face.column(to - 1e-9).max(face.column(from)),
    );
    let (top, below) = (face.row(high - 1e-9), face.row(low));
    let mut sum = [0.0f32; 3];
    let mut count = 0.0f32;
    for row in top..=below.max(top) {
        for column in first..=last {
            let light = face.pixel(column, row);
            sum = [0, 1, 2].map(|c| sum[c] + light[c]);
            count += 1.0;
        }
    }
    Lab::of_linear(sum.map(|c| c / count))
}

fn correlation(one: &[Lab], two: &[Lab], shift: isize) -> f64 {
    let pairs: Vec<(f64, f64)> = (0..one.len())
        .filter_map(|at| Some((one[at].l, two.get(at.checked_add_signed(shift)?)?.l)))
        .collect();
    let count = pairs.len().max(1) as f64;
    let (a, b) = pairs
        .iter()
        .fold((0.0, 0.0), |(a, b), pair| (a + pair.0, b + pair.1));
    let (a, b) = (a / count, b / count);
    let (mut ab, mut aa, mut bb) = (0.0, 0.0, 0.0);
    for (x, y) in pairs {
        ab += (x - a) * (y - b);
        aa += (x - a).powi(2);
        bb += (y - b).powi(2);
    }
    ab / (aa * bb).sqrt().max(1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::plane::Window;

    /// Wood whose lines run along it, darker towards the far edge.
    fn face() -> Strip {
        let window = Window {
            from: 0.0,
            to: 20.0,
            low: 0.0,
            high: 6.0,
        };
        let mut face = Strip::black(window, 24.0);
        for row in 0..face.height {
            let y = face.across(row);
            let light = (0.4 - 0.03 * y + 0.05 * (y * 9.0).sin()) as f32;
            for column in 0..face.width {
                face.light[row * face.width + column] = [light, 0.7 * light, 0.4 * light];
            }
        }
        face
    }

    #[test]
    fn lines_that_run_on_agree_and_turned_ones_do_not() {
        let face = face();
        let left = Edge::of(&face, 9.0, (1.0, 4.0), Inward::Hook, false);
        let right = Edge::of(&face, 9.5, (1.0, 4.0), Inward::Far, false);
        assert!(left.difference(&right) < 1e-3 && left.alike(&right) > 0.99);
        let over = Edge::of(&face, 9.5, (1.0, 4.0), Inward::Far, true);
        assert!(left.difference(&over) > 2.0 && left.alike(&over) < 0.5);
        let higher = Edge::of(&face, 9.5, (2.9, 5.9), Inward::Far, false);
        assert!(left.difference(&higher) > 2.0);
    }
}
