//! The slow change of light over a picture.

use super::{Cover, Paper};
use crate::photo::plane::{Point, Window, least_squares};

/// What share of the light white paper sends back.
const PAPER: f32 = 0.85;
/// Rounds of reweighting.
const ROUNDS: usize = 12;

/// The light that fell on a board's plane: a quadratic of its logarithm, each channel by itself, with
/// no more terms than the paper can tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Light {
    channels: [Vec<f64>; 3],
    terms: Terms,
    /// How far 19 of 20 bits of paper keep to it, as a part of the light: shadows show here.
    pub spread: f64,
}

/// Which terms, and what places are counted in.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Terms {
    middle: Point,
    size: Point,
    linear_along: bool,
    square_along: bool,
    across: bool,
    twist: bool,
}

impl Terms {
    fn of(cover: &Cover, board: Window) -> Terms {
        Terms {
            middle: Point::new(
                (board.from + board.to) / 2.0,
                (board.low + board.high) / 2.0,
            ),
            size: Point::new(board.length() / 2.0, board.width() / 2.0),
            linear_along: cover.along() || (cover.hook && cover.end),
            square_along: cover.along(),
            across: cover.near > 0 && cover.far > 0,
            twist: cover.both(),
        }
    }

    fn at(&self, place: Point) -> Vec<f64> {
        let x = (place.x - self.middle.x) / self.size.x;
        let y = (place.y - self.middle.y) / self.size.y;
        let mut terms = vec![1.0];
        let all = [
            (self.linear_along, x),
            (self.square_along, x * x),
            (self.across, y),
            (self.twist, x * y),
        ];
        terms.extend(all.iter().filter(|(known, _)| *known).map(|(_, term)| term));
        terms
    }
}

impl Light {
    /// The light as the paper beside a board tells it; nothing without paper.
    pub fn fit(paper: &[Paper], board: Window) -> Option<Light> {
        // Burnt out paper tells nothing but that there is much light.
        let sound = |bit: &&Paper| bit.light.iter().all(|&c| c > 0.005 && c < 0.985);
        let paper: Vec<&Paper> = paper.iter().filter(sound).collect();
        let seen: Vec<Paper> = paper.iter().map(|bit| **bit).collect();
        let terms = Terms::of(&Cover::of(&seen, board), board);
        let rows: Vec<Vec<f64>> = paper.iter().map(|bit| terms.at(bit.place)).collect();
        if rows.len() < 4 * rows.first()?.len() {
            return None;
        }
        let fitted = [0, 1, 2].map(|channel| {
            let logs = paper.iter().map(|bit| f64::from(bit.light[channel]).ln());
            robust(&rows, &logs.collect::<Vec<f64>>())
        });
        let spread = fitted[1].as_ref()?.1;
        let [red, green, blue] = fitted.map(|fit| fit.map(|fit| fit.0));
        Some(Light {
            channels: [red?, green?, blue?],
            terms,
            spread,
        })
    }

    /// What paper would show at a place.
    pub fn at(&self, place: Point) -> [f32; 3] {
        let terms = self.terms.at(place);
        [0, 1, 2].map(|channel| dot(&self.channels[channel], &terms).exp() as f32)
    }

    /// Wood as it would be seen under even white light.
    pub fn evened(&self, seen: [f32; 3], place: Point) -> [f32; 3] {
        let paper = self.at(place);
        [0, 1, 2].map(|c| PAPER * seen[c] / paper[c].max(1e-5))
    }
}

/// The fit of least distances (by reweighted least squares), which a third of foreign bits does not
/// move, then least squares over what lies near it; with the spread 19 of 20 bits keep within.
fn robust(rows: &[Vec<f64>], values: &[f64]) -> Option<(Vec<f64>, f64)> {
    const LEAST: f64 = 0.002;
    let mut weights = vec![1.0; rows.len()];
    for _ in 0..ROUNDS {
        let (_, off) = weighted(rows, values, &weights)?;
        weights = off.iter().map(|off| 1.0 / off.max(LEAST)).collect();
    }
    let (_, off) = weighted(rows, values, &weights)?;
    // Half of a normal spread lies within 0.6745 of it.
    let near = 3.0 * (part_of(&off, 0.5) / 0.6745).max(2.0 * LEAST);
    let kept: Vec<f64> = off.iter().map(|&off| f64::from(off <= near)).collect();
    let (fit, off) = weighted(rows, values, &kept)?;
    Some((fit, part_of(&off, 0.95)))
}

/// Weighted least squares, and how far each value is off.
fn weighted(rows: &[Vec<f64>], values: &[f64], weights: &[f64]) -> Option<(Vec<f64>, Vec<f64>)> {
    let equations = (0..rows.len()).map(|at| (rows[at].as_slice(), values[at], weights[at]));
    let fit = least_squares(rows[0].len(), equations)?;
    let off = (0..rows.len()).map(|at| (values[at] - dot(&fit, &rows[at])).abs());
    let off = off.collect();
    Some((fit, off))
}

/// The value that such a part of all stays below.
fn part_of(values: &[f64], part: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted[((sorted.len() - 1) as f64 * part) as usize]
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
