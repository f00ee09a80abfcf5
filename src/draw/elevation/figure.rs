//! The figure of the wood: lines that follow the growth rings, as a flat cut through a log shows
//! them.
//!
//! A log tapers, so its rings are cones. On a plane at distance `d` from the pith, a ring whose
//! radius at `x` along the board is `r(x)` shows at `v = ±sqrt(r(x)^2 - d^2)` from the plane's
//! foot: nested arches (cathedral figure) for a flat-sawn board, nearly straight lines for a
//! quarter-sawn one, whose plane passes close to the pith. The numbers are chosen to look right;
//! they are not measured.

use crate::job::{Board, Cut};

/// The rings of one board.
#[derive(Clone, Copy, Debug)]
pub struct Figure {
    /// Distance of the face from the pith.
    distance: f64,
    /// Where the foot of that distance lies across the board.
    foot: f64,
    /// Radius gained for each inch along.
    taper: f64,
    /// Between rings that are drawn.
    ring: f64,
    width: f64,
    length: f64,
    wave: f64,
}

impl Figure {
    /// The figure of a board; all copies of a row share it.
    pub fn of(board: &Board) -> Figure {
        let (width, length) = (board.width.inches(), board.length.inches());
        let seed: u32 = board.id.bytes().fold(7, |sum, byte| {
            sum.wrapping_mul(31).wrapping_add(byte.into())
        });
        let vary = f64::from(seed % 97) / 97.0;
        let (distance, foot, taper) = match board.cut {
            Some(Cut::Flat) => (2.6 + vary, width * (0.42 + 0.16 * vary), 0.03),
            Some(Cut::Rift) => (2.0, -2.5 - 2.0 * vary, 0.012),
            Some(Cut::Quarter) | None => (0.4, -2.0 - 3.0 * vary, 0.004),
        };
        Figure {
            distance,
            foot,
            taper: if seed.is_multiple_of(2) {
                taper
            } else {
                -taper
            },
            ring: 0.34,
            width,
            length,
            wave: vary * 6.0,
        }
    }

    /// The lines between `from` and `to` along the board, as points (along, across), each a
    /// piece of one side of one ring.
    pub fn lines(&self, from: f64, to: f64) -> Vec<Vec<(f64, f64)>> {
        let farthest = (self.width - self.foot).abs().max(self.foot.abs());
        let reach = farthest.hypot(self.distance) + self.length * self.taper.abs();
        let count = (2.0 * reach / self.ring) as i64;
        let mut lines = Vec::new();
        for ring in -count / 2..=count {
            for side in [-1.0, 1.0] {
                self.side(ring as f64 * self.ring, side, from, to, &mut lines);
            }
        }
        lines
    }

    fn side(&self, radius: f64, side: f64, from: f64, to: f64, lines: &mut Vec<Vec<(f64, f64)>>) {
        let steps = ((to - from) / 0.75).ceil().max(2.0) as usize;
        let mut line = Vec::new();
        let mut last: Option<(f64, bool)> = None;
        for i in 0..=steps {
            let along = from + (to - from) * i as f64 / steps as f64;
            let shows = self.across(radius, side, along);
            if let Some((before, shown)) = last.filter(|(_, shown)| *shown != shows.is_some()) {
                let ends = if shown {
                    (before, along)
                } else {
                    (along, before)
                };
                let mut tip = self.tip(radius, side, ends);
                if !shown {
                    tip.reverse();
                }
                line.extend(tip);
            }
            last = Some((along, shows.is_some()));
            match shows {
                Some(across) => line.push((along, across)),
                None if line.len() > 1 => lines.push(std::mem::take(&mut line)),
                None => line.clear(),
            }
        }
        if line.len() > 1 {
            lines.push(line);
        }
    }

    /// Points from where a line shows, at `ends.0`, to where it ends before `ends.1`: the nearer to
    /// the end the closer, because the rings of a flat cut turn there.
    fn tip(&self, radius: f64, side: f64, ends: (f64, f64)) -> Vec<(f64, f64)> {
        let (mut inside, mut outside) = ends;
        for _ in 0..24 {
            let middle = (inside + outside) / 2.0;
            match self.across(radius, side, middle) {
                Some(_) => inside = middle,
                None => outside = middle,
            }
        }
        let nearer = [0.45, 0.75, 0.92, 1.0].map(|share| ends.0 + (inside - ends.0) * share);
        let points = nearer.into_iter();
        points
            .filter_map(|along| Some((along, self.across(radius, side, along)?)))
            .collect()
    }

    fn across(&self, radius: f64, side: f64, along: f64) -> Option<f64> {
        let waved = 0.05 * ((along / 7.0) + self.wave).sin();
        let here = radius + self.taper * along + waved;
        let square = here * here - self.distance * self.distance;
        let across = self.foot + side * square.max(0.0).sqrt();
        (here > 0.0 && square >= 0.0 && (0.0..=self.width).contains(&across)).then_some(across)
    }
}
