//! The slope of the grain against the board, region by region.

use rayon::prelude::*;

use crate::photo::plane::{Strip, luminance};

/// Pixels an inch at which lines of the grain are looked at: saw marks are lost, grain is not.
const SCALE: f64 = 40.0;
/// Side of a block that votes, in inches.
const BLOCK: f64 = 0.5;
/// Grain steeper than this is not told from saw marks: degrees.
const MOST: f64 = 35.0;
/// A front should not lie on grain steeper than 1 in 8: such wood tears and breaks easily.
pub const STEEP: f64 = 1.0 / 8.0;

/// The slope of the grain in a region.
#[derive(Clone, Copy, Debug, PartialEq)]
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
            let here: Vec<(f64, f64)> = votes
                .iter()
                .filter(|vote| vote.0 >= from && vote.0 < to)
                .map(|vote| (vote.1, vote.2))
                .collect();
            let (degrees, confidence) = agreed(here)?;
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

/// Each block's place along, its slope in degrees and the weight of its vote.
fn votes(face: &Strip) -> Vec<(f64, f64, f64)> {
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
            let (degrees, weight) = block_slope(&logs, face, left, top, block)?;
            Some((face.along(left + block / 2), degrees, weight))
        })
        .collect()
}

/// The slope of one block's lines, of those that run more along than across.
fn block_slope(
    logs: &[f32],
    face: &Strip,
    left: usize,
    top: usize,
    block: usize,
) -> Option<(f64, f64)> {
    let values = without_saw_marks(logs, face, left, top, block);
    let at = |x: usize, y: usize| values[y * block + x];
    let steepest = MOST.to_radians().tan();
    let (mut xx, mut xy, mut yy, mut all) = (0.0, 0.0, 0.0, 0.0);
    for y in 1..block - 1 {
        for x in 1..block - 1 {
            // Scharr's weights keep the angle of a gradient within a tenth of a degree.
            let right = 3.0 * (at(x + 1, y - 1) + at(x + 1, y + 1)) + 10.0 * at(x + 1, y);
            let left = 3.0 * (at(x - 1, y - 1) + at(x - 1, y + 1)) + 10.0 * at(x - 1, y);
            let below = 3.0 * (at(x - 1, y + 1) + at(x + 1, y + 1)) + 10.0 * at(x, y + 1);
            let above = 3.0 * (at(x - 1, y - 1) + at(x + 1, y - 1)) + 10.0 * at(x, y - 1);
            let (dx, dy) = (right - left, below - above);
            all += dx * dx + dy * dy;
            if dx.abs() < steepest * dy.abs() {
                xx += dx * dx;
                xy += dx * dy;
                yy += dy * dy;
            }
        }
    }
    if all < 1e-9 {
        return None;
    }
    // The lines run square to the mean gradient; rows count downwards.
    let across = 0.5 * (2.0 * xy).atan2(xx - yy);
    let line = across.to_degrees() + 90.0;
    let slope = if line > 90.0 { line - 180.0 } else { line };
    let clear = ((xx - yy).powi(2) + 4.0 * xy * xy).sqrt() / all;
    Some((-slope, clear * all.sqrt()))
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

/// The weighted median of the votes, and the part of their weight within 3 degrees of it.
fn agreed(mut votes: Vec<(f64, f64)>) -> Option<(f64, f64)> {
    votes.sort_by(|a, b| a.0.total_cmp(&b.0));
    let weight: f64 = votes.iter().map(|vote| vote.1).sum();
    let mut sum = 0.0;
    let middle = votes.iter().find(|vote| {
        sum += vote.1;
        sum >= weight / 2.0
    })?;
    let near = votes.iter().filter(|vote| (vote.0 - middle.0).abs() < 3.0);
    Some((
        middle.0,
        near.map(|vote| vote.1).sum::<f64>() / weight.max(1e-12),
    ))
}
