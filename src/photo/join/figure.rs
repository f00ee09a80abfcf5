//! The figure of a face: its lightness with slow changes taken out.

use crate::photo::plane::{Strip, luminance};

/// Half the side of what counts as slow, in inches.
const SLOW: f64 = 0.35;
/// Pixels across that a part may be off.
const ACROSS: isize = 3;

/// The figure of a part of a board.
pub struct Figure {
    from: f64,
    width: usize,
    height: usize,
    scale: f64,
    values: Vec<f32>,
}

impl Figure {
    /// That of a strip.
    pub fn of(part: &Strip) -> Figure {
        let (width, height) = (part.width, part.height);
        let logs: Vec<f32> = part
            .light
            .iter()
            .map(|&l| luminance(l).max(1e-4).ln())
            .collect();
        let reach = (SLOW * part.scale) as usize + 1;
        let rows = blurred(&logs, width, reach);
        let turned = blurred(&transposed(&rows, width), height, reach);
        let slow = transposed(&turned, height);
        Figure {
            from: part.window.from,
            width,
            height,
            scale: width as f64 / part.window.length(),
            values: logs.iter().zip(slow).map(|(l, s)| l - s).collect(),
        }
    }

    /// Where the block around a place lies in another part, within `reach` inches of where that says,
    /// and the correlation there.
    pub fn find(&self, along: f64, other: &Figure, block: f64, reach: f64) -> Option<(f64, f64)> {
        let half = (block / 2.0 * self.scale) as isize;
        let here = ((along - self.from) * self.scale) as isize;
        let told = ((along - other.from) * other.scale) as isize;
        let reach = (reach * other.scale) as isize;
        let fits = |at: isize, width: usize| at - half >= 0 && at + half < width as isize;
        fits(here, self.width).then_some(())?;
        let best = |there: isize| {
            let shifts = -ACROSS..=ACROSS;
            shifts
                .map(|across| self.alike(here, other, there, half, across))
                .fold(-1.0, f64::max)
        };
        let tried: Vec<(isize, f64)> = (told - reach..=told + reach)
            .filter(|&there| fits(there, other.width))
            .map(|there| (there, best(there)))
            .collect();
        let at = (0..tried.len()).max_by(|&a, &b| tried[a].1.total_cmp(&tried[b].1))?;
        let (there, alike) = tried[at];
        let beside = |step: isize| tried.get(at.checked_add_signed(step)?).map(|t| t.1);
        // The top of a parabola through three neighbours.
        let part = match (beside(-1), beside(1)) {
            (Some(a), Some(b)) if a + b < 2.0 * alike => 0.5 * (a - b) / (a - 2.0 * alike + b),
            _ => 0.0,
        };
        Some((
            other.from + (there as f64 + 0.5 + part) / other.scale,
            alike,
        ))
    }

    /// The normalised correlation of two blocks.
    fn alike(&self, here: isize, other: &Figure, there: isize, half: isize, across: isize) -> f64 {
        let (mut ab, mut aa, mut bb) = (0.0f32, 0.0f32, 0.0f32);
        let rows = self.height.min(other.height) as isize;
        for row in across.max(0)..(rows + across).min(rows) {
            let start = |figure: &Figure, row: isize, at: isize| {
                (row * figure.width as isize + at - half) as usize
            };
            let length = (2 * half) as usize;
            let one = &self.values[start(self, row, here)..][..length];
            let two = &other.values[start(other, row - across, there)..][..length];
            for (a, b) in one.iter().zip(two) {
                ab += a * b;
                aa += a * a;
                bb += b * b;
            }
        }
        f64::from(ab / (aa * bb).sqrt().max(1e-12))
    }
}

/// Running means along rows.
fn blurred(values: &[f32], width: usize, reach: usize) -> Vec<f32> {
    values
        .chunks(width)
        .flat_map(|row| {
            let sums: Vec<f32> = std::iter::once(0.0)
                .chain(row.iter().scan(0.0, |sum, value| {
                    *sum += value;
                    Some(*sum)
                }))
                .collect();
            (0..row.len()).map(move |at| {
                let (first, last) = (
                    at.saturating_sub(reach),
                    (at + reach + 1).min(sums.len() - 1),
                );
                (sums[last] - sums[first]) / (last - first) as f32
            })
        })
        .collect()
}

fn transposed(values: &[f32], width: usize) -> Vec<f32> {
    let height = values.len() / width;
    (0..values.len())
        .map(|at| values[at % height * width + at / height])
        .collect()
}
