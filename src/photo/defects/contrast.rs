//! How much darker each place of a board is than the wood along the grain from it.

use rayon::prelude::*;

use crate::photo::colour::Lab;
use crate::photo::plane::Strip;

/// Pixels an inch at which spots are looked for.
pub const SCALE: f64 = 20.0;
/// Half the length along the grain that a place is compared with, in inches.
const REACH: f64 = 1.6;

/// A face in Lab at a fixed scale, and how dark each place is against its surroundings.
pub struct Contrast {
    /// Pixels along and across.
    pub width: usize,
    /// Pixels across.
    pub height: usize,
    /// Inches along of the first column's left side, and pixels an inch both ways.
    pub from: f64,
    /// Inches across of the lowest row's lower side.
    pub low: f64,
    /// Pixels an inch along and across.
    pub scale: (f64, f64),
    /// Colours, row by row from the far edge.
    pub lab: Vec<[f32; 3]>,
    /// L* below the median along the grain, smoothed.
    pub dark: Vec<f32>,
}

impl Contrast {
    /// That of a face.
    pub fn of(face: &Strip) -> Contrast {
        let by = (face.scale / SCALE).round().max(1.0) as usize;
        let small = face.shrunk(by);
        let (width, height) = (small.width, small.height);
        let lab: Vec<[f32; 3]> = small
            .light
            .par_iter()
            .map(|&light| Lab::of_linear(light).parts().map(|part| part as f32))
            .collect();
        let lightness: Vec<f32> = lab.iter().map(|lab| lab[0]).collect();
        let scale = (
            width as f64 / face.window.length(),
            height as f64 / face.window.width(),
        );
        let reach = (REACH * scale.0) as usize;
        let dark: Vec<f32> = lightness
            .par_chunks(width)
            .flat_map_iter(|row| {
                let medians = medians(row, reach);
                row.iter()
                    .zip(medians)
                    .map(|(l, m)| m - l)
                    .collect::<Vec<f32>>()
            })
            .collect();
        Contrast {
            width,
            height,
            from: face.window.from,
            low: face.window.low,
            scale,
            dark: smoothed(&dark, width, height),
            lab,
        }
    }

    /// Inches along of a column's left side.
    pub fn along(&self, column: f64) -> f64 {
        self.from + column / self.scale.0
    }

    /// Inches across of a row's upper side.
    pub fn across(&self, row: f64) -> f64 {
        self.low + (self.height as f64 - row) / self.scale.1
    }
}

/// Medians of windows along a row, each fourth place reckoned and the rest taken from the nearest.
fn medians(row: &[f32], reach: usize) -> Vec<f32> {
    const EVERY: usize = 4;
    let mut window = Vec::new();
    let known: Vec<f32> = (0..row.len().div_ceil(EVERY))
        .map(|at| {
            let middle = at * EVERY;
            window.clear();
            window.extend_from_slice(
                &row[middle.saturating_sub(reach)..(middle + reach + 1).min(row.len())],
            );
            let half = window.len() / 2;
            *window.select_nth_unstable_by(half, f32::total_cmp).1
        })
        .collect();
    (0..row.len())
        .map(|at| known[((at + EVERY / 2) / EVERY).min(known.len() - 1)])
        .collect()
}

/// Means of three by three.
fn smoothed(values: &[f32], width: usize, height: usize) -> Vec<f32> {
    let at = |x: usize, y: usize| values[y * width + x];
    (0..values.len())
        .map(|i| {
            let (x, y) = (i % width, i / width);
            let (left, right) = (x.saturating_sub(1), (x + 1).min(width - 1));
            let (above, below) = (y.saturating_sub(1), (y + 1).min(height - 1));
            let row = |y: usize| at(left, y) + at(x, y) + at(right, y);
            (row(above) + row(y) + row(below)) / 9.0
        })
        .collect()
}
