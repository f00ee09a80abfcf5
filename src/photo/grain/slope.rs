//! The slope of the grain against the board, region by region.

use rayon::prelude::*;

use crate::photo::plane::{Strip, luminance};

/// Pixels an inch at which lines of the grain are looked at: saw marks are lost, grain is not.
const SCALE: f64 = 40.0;
/// Side of a block that votes, in inches.
const BLOCK: f64 = 0.5;
/// Grain steeper than this is not told from saw marks: degrees.
const MOST: usize = 45;
/// A front should not lie on grain steeper than 1 in 8: such wood tears and breaks easily.
pub const STEEP: f64 = 1.0 / 8.0;

/// The slope of the grain in a region.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Slope {
    /// Start along, in inches.
    pub from: f64,
    /// End along, in inches.
    pub to: f64,
    /// Degrees against the board's length: above zero when the grain rises towards the far edge.
    pub degrees: f64,
    /// 0 to 1: how many of the votes agree.
    pub confidence: f64,
}

impl Slope {
    /// As the trade says it: 1 in so many.
    pub fn one_in(&self) -> f64 {
        1.0 / self.degrees.to_radians().tan().abs().max(1e-6)
    }

    /// Whether it is steeper than 1 in 8.
    pub fn is_steep(&self) -> bool {
        self.degrees.to_radians().tan().abs() > STEEP
    }
}

/// The slope of each region of a face, `every` inches long.
pub fn slopes(face: &Strip, every: f64) -> Vec<Slope> {
    let by = (face.scale / SCALE).round().max(1.0) as usize;
    let small = if by > 1 {
        face.shrunk(by)
    } else {
        face.clone()
    };
    let votes = votes(&small);
    let regions = (face.window.length() / every).ceil().max(1.0) as usize;
    (0..regions)
        .filter_map(|region| {
            let from = face.window.from + region as f64 * every;
            let to = (from + every).min(face.window.to);
            let here = votes.iter().filter(|vote| vote.0 >= from && vote.0 < to);
            let (degrees, confidence) = agreed(here.map(|vote| &vote.1))?;
            Some(Slope {
                from,
                to,
                degrees,
                confidence,
            })
        })
        .collect()
}

/// The slope of a whole face.
pub fn slope_of(face: &Strip) -> Option<Slope> {
    slopes(face, face.window.length() + 1.0).into_iter().next()
}

/// How much of a block's light changes square to lines of each slope, degree by degree.
type Slopes = [f64; 2 * MOST + 1];

/// Each block's place along, and its slopes.
fn votes(face: &Strip) -> Vec<(f64, Slopes)> {
    let logs: Vec<f32> = face
        .light
        .iter()
        .map(|&light| luminance(light).max(1e-4).ln())
        .collect();
    let block = ((BLOCK * face.scale) as usize).max(6);
    let (columns, rows) = (face.width / block, face.height / block);
    (0..columns * rows)
        .into_par_iter()
        .filter_map(|at| {
            let (left, top) = (at % columns * block, at / columns * block);
            let slopes = block_slopes(&logs, face, left, top, block)?;
            Some((face.along(left + block / 2), slopes))
        })
        .collect()
}

/// The slopes of one block's lines. Each block counts alike, however strong its figure.
fn block_slopes(
    logs: &[f32],
    face: &Strip,
    left: usize,
    top: usize,
    block: usize,
) -> Option<Slopes> {
    let values = without_saw_marks(logs, face, left, top, block);
    let at = |x: usize, y: usize| values[y * block + x];
    let mut slopes = [0.0; 2 * MOST + 1];
    for y in 1..block - 1 {
        for x in 1..block - 1 {
            // Scharr's weights keep the angle of a gradient within a tenth of a degree.
            let right = 3.0 * (at(x + 1, y - 1) + at(x + 1, y + 1)) + 10.0 * at(x + 1, y);
            let left = 3.0 * (at(x - 1, y - 1) + at(x - 1, y + 1)) + 10.0 * at(x - 1, y);
            let below = 3.0 * (at(x - 1, y + 1) + at(x + 1, y + 1)) + 10.0 * at(x, y + 1);
            let above = 3.0 * (at(x - 1, y - 1) + at(x + 1, y - 1)) + 10.0 * at(x, y - 1);
            let (dx, dy) = (right - left, below - above);
            if dy != 0.0 {
                // Lines run square to the gradient; rows count downwards.
                let degrees = (dx / dy).atan().to_degrees();
                let bin = degrees.round() as i64 + MOST as i64;
                if let Some(bin) = usize::try_from(bin)
                    .ok()
                    .and_then(|bin| slopes.get_mut(bin))
                {
                    *bin += dx * dx + dy * dy;
                }
            }
        }
    }
    let sum: f64 = slopes.iter().sum();
    (sum > 1e-9).then(|| slopes.map(|share| share / sum))
}

/// A block's lightness less the mean of each column: what is the same all the way across is a mark
/// of the saw; the lines of the grain average out.
fn without_saw_marks(
    logs: &[f32],
    face: &Strip,
    left: usize,
    top: usize,
    block: usize,
) -> Vec<f64> {
    let log = |x: usize, y: usize| f64::from(logs[(top + y) * face.width + left + x]);
    let means: Vec<f64> = (0..block)
        .map(|x| (0..block).map(|y| log(x, y)).sum::<f64>() / block as f64)
        .collect();
    (0..block * block)
        .map(|at| log(at % block, at / block) - means[at % block])
        .collect()
}

/// The slope most blocks vote for, and how much their votes stand out there. Noise has no slope: it
/// votes for all of them alike, and does not pull the answer to the middle.
fn agreed<'v>(votes: impl Iterator<Item = &'v Slopes>) -> Option<(f64, f64)> {
    const NEAR: usize = 4;
    let mut sum = [0.0; 2 * MOST + 1];
    let mut any = false;
    for vote in votes {
        any = true;
        sum.iter_mut()
            .zip(vote)
            .for_each(|(sum, share)| *sum += share);
    }
    let near = |at: usize| at.saturating_sub(NEAR)..(at + NEAR + 1).min(sum.len());
    let window = |at: usize| {
        let weight = |other: usize| 1.0 - other.abs_diff(at) as f64 / (NEAR + 1) as f64;
        near(at)
            .map(|other| sum[other] * weight(other))
            .sum::<f64>()
    };
    let peak = (0..sum.len()).max_by(|&a, &b| window(a).total_cmp(&window(b)))?;
    let mut sorted = sum;
    sorted.sort_by(f64::total_cmp);
    let floor = sorted[sum.len() / 4];
    let over = |at: usize| (sum[at] - floor).max(0.0);
    let weight: f64 = near(peak).map(over).sum();
    let mean: f64 = near(peak)
        .map(|at| over(at) * (at as f64 - MOST as f64))
        .sum();
    let all: f64 = sum.iter().sum();
    (any && weight > 0.0).then(|| (mean / weight, (weight / all).min(1.0)))
}
