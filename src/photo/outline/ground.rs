//! The ground boards lie on, as the rim of the picture shows it.

use crate::photo::colour::Lab;
use crate::photo::plane::least_squares;

/// A small copy of a picture in CIE Lab.
pub struct Small {
    /// Pixels across and down.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// How many of the picture's pixels one of its is wide.
    pub by: usize,
    /// Colours, row by row.
    pub lab: Vec<Lab>,
}

/// How far each pixel is from the ground, and how uneven the ground itself is.
pub struct Ground {
    /// Distance in Lab, a pixel each.
    pub off: Vec<f32>,
    /// What 9 of 10 pixels of the rim keep within.
    pub rough: f32,
}

/// Part of the picture's sides that is taken as its rim.
const RIM: f64 = 0.04;

impl Ground {
    /// The ground of a picture: its colour at the rim, its lightness going over slowly.
    pub fn of(small: &Small) -> Ground {
        let rim: Vec<usize> = (0..small.lab.len())
            .filter(|&at| small.is_rim(at))
            .collect();
        let middle = |part: fn(&Lab) -> f64| {
            let mut values: Vec<f64> = rim.iter().map(|&at| part(&small.lab[at])).collect();
            values.sort_by(f64::total_cmp);
            values[values.len() / 2]
        };
        let (a, b) = (middle(|lab| lab.a), middle(|lab| lab.b));
        let slow = slow_lightness(small, &rim);
        let off: Vec<f32> = (0..small.lab.len())
            .map(|at| {
                let lab = small.lab[at];
                let terms = small.terms(at);
                let l: f64 = slow.iter().zip(terms).map(|(c, t)| c * t).sum();
                ((lab.l - l).powi(2) + (lab.a - a).powi(2) + (lab.b - b).powi(2)).sqrt() as f32
            })
            .collect();
        let mut rough: Vec<f32> = rim.iter().map(|&at| off[at]).collect();
        rough.sort_by(f32::total_cmp);
        let rough = rough[rough.len() * 9 / 10];
        Ground { off, rough }
    }
}

impl Small {
    fn is_rim(&self, at: usize) -> bool {
        let (x, y) = (at % self.width, at / self.width);
        let (wide, high) = (self.width as f64, self.height as f64);
        let rim = (RIM * wide.min(high)).max(2.0) as usize;
        x < rim || y < rim || x >= self.width - rim || y >= self.height - rim
    }

    /// Terms of a quadratic over the picture.
    fn terms(&self, at: usize) -> [f64; 6] {
        let x = (at % self.width) as f64 / self.width as f64 - 0.5;
        let y = (at / self.width) as f64 / self.height as f64 - 0.5;
        [1.0, x, y, x * x, x * y, y * y]
    }
}

/// A quadratic of the rim's lightness; what is far off (a board that reaches the rim) counts little.
fn slow_lightness(small: &Small, rim: &[usize]) -> Vec<f64> {
    let rows: Vec<[f64; 6]> = rim.iter().map(|&at| small.terms(at)).collect();
    let mut weights = vec![1.0; rim.len()];
    let mut fit = vec![0.0; 6];
    for _ in 0..6 {
        let equations = (0..rim.len()).map(|i| (&rows[i][..], small.lab[rim[i]].l, weights[i]));
        let Some(better) = least_squares(6, equations) else {
            break;
        };
        fit = better;
        for (i, weight) in weights.iter_mut().enumerate() {
            let l: f64 = fit.iter().zip(rows[i]).map(|(c, t)| c * t).sum();
            *weight = 1.0 / (small.lab[rim[i]].l - l).abs().max(0.5);
        }
    }
    fit
}
