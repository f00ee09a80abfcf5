//! One side of an outline. A lens bends a straight edge into a parabola, as far as it shows here.

use crate::photo::plane::least_squares;

/// A side: `off = c0 + c1 at + c2 at^2`, in coordinates along and off the piece's own axes.
#[derive(Clone, Copy, Debug)]
pub struct Side {
    middle: f64,
    half: f64,
    terms: [f64; 3],
    /// What half of its points keep within.
    pub rough: f64,
}

impl Side {
    /// The side through points of `at` and `off`; what is far off counts little.
    pub fn through(points: &[(f64, f64)]) -> Option<Side> {
        if points.len() < 8 {
            return None;
        }
        let ends = |pick: fn(f64, f64) -> f64, start: f64| {
            points.iter().fold(start, |best, point| pick(best, point.0))
        };
        let (least, most) = (ends(f64::min, f64::MAX), ends(f64::max, f64::MIN));
        let (middle, half) = ((least + most) / 2.0, ((most - least) / 2.0).max(1.0));
        let rows: Vec<[f64; 3]> = points
            .iter()
            .map(|(at, _)| (at - middle) / half)
            .map(|t| [1.0, t, t * t])
            .collect();
        let mut weights = vec![1.0; points.len()];
        let mut terms = vec![0.0; 3];
        let mut off = Vec::new();
        for _ in 0..10 {
            let equations = (0..points.len()).map(|i| (&rows[i][..], points[i].1, weights[i]));
            terms = least_squares(3, equations)?;
            let fitted = |i: usize| -> f64 { rows[i].iter().zip(&terms).map(|(r, c)| r * c).sum() };
            off = (0..points.len())
                .map(|i| (points[i].1 - fitted(i)).abs())
                .collect();
            weights = off
                .iter()
                .map(|off| 1.0 / off.max(0.1).powi(2).max(0.01))
                .collect();
        }
        off.sort_by(f64::total_cmp);
        let rough = off[off.len() / 2];
        let terms = [terms[0], terms[1], terms[2]];
        Some(Side {
            middle,
            half,
            terms,
            rough,
        })
    }

    /// How far off the axis it is.
    pub fn off(&self, at: f64) -> f64 {
        let t = (at - self.middle) / self.half;
        self.terms[0] + self.terms[1] * t + self.terms[2] * t * t
    }
}

/// Where a side that runs along crosses one that runs across.
pub fn crossing(along: &Side, across: &Side) -> (f64, f64) {
    let mut v = 0.0;
    let mut u = 0.0;
    for _ in 0..12 {
        u = across.off(v);
        v = along.off(u);
    }
    (u, v)
}
