//! Dark spots at several depths, and what can be told of each.

use super::Contrast;
use crate::job::DefectKind;

/// How much darker in L* than along the grain a spot is, at each depth.
const DEPTHS: [f32; 6] = [3.0, 5.0, 8.0, 12.0, 17.0, 24.0];
/// Least pixels of a spot.
const LEAST: usize = 10;
/// Longest spot along the board, in inches; longer ones are streaks.
const LONGEST: f64 = 9.0;
/// How many figures a spot is judged by.
pub const FEATURES: usize = 14;

/// A dark spot: columns and rows, and the figures it is judged by.
#[derive(Clone, Debug)]
pub struct Spot {
    left: usize,
    right: usize,
    top: usize,
    below: usize,
    /// Size along and across in inches, their ratio, how full its rectangle is, its area, mean and
    /// greatest depth, the depth it was cut at, its contrast with a ring around it in L*, a* and b*,
    /// mean depth of that ring, how uneven the ring is, and how much of the rim of its rectangle is
    /// as dark.
    pub features: [f64; FEATURES],
}

impl Spot {
    /// From, to along; low, high across, in inches.
    pub fn edges(&self, contrast: &Contrast) -> [f64; 4] {
        [
            contrast.along(self.left as f64),
            contrast.along(self.right as f64 + 1.0),
            contrast.across(self.below as f64 + 1.0),
            contrast.across(self.top as f64),
        ]
    }

    /// A long thin spot along the grain is a check, another a knot.
    pub fn kind(&self) -> DefectKind {
        let [long, wide, ..] = self.features;
        if long > 5.0 * wide && wide < 0.35 {
            DefectKind::Check
        } else {
            DefectKind::Knot
        }
    }
}

/// All spots of a face.
pub fn spots_of(contrast: &Contrast) -> Vec<Spot> {
    let mut spots = Vec::new();
    for depth in DEPTHS {
        let mut seen = vec![false; contrast.dark.len()];
        for start in 0..contrast.dark.len() {
            if seen[start] || contrast.dark[start] < depth {
                continue;
            }
            let pixels = flood(contrast, &mut seen, start, depth);
            if pixels.len() >= LEAST {
                spots.extend(spot(contrast, &pixels, depth));
            }
        }
    }
    spots
}

fn flood(contrast: &Contrast, seen: &mut [bool], start: usize, depth: f32) -> Vec<usize> {
    let (width, height) = (contrast.width, contrast.height);
    let mut open = vec![start];
    let mut pixels = Vec::new();
    seen[start] = true;
    while let Some(at) = open.pop() {
        pixels.push(at);
        let (x, y) = (at % width, at / width);
        let near = [
            (x > 0).then(|| at - 1),
            (x + 1 < width).then_some(at + 1),
            (y > 0).then(|| at - width),
            (y + 1 < height).then_some(at + width),
        ];
        for next in near.into_iter().flatten() {
            if !seen[next] && contrast.dark[next] >= depth {
                seen[next] = true;
                open.push(next);
            }
        }
    }
    pixels
}

/// The mean of some pixels, and their spread in depth.
#[derive(Default)]
struct Mean {
    lab: [f64; 3],
    dark: f64,
    square: f64,
    count: f64,
}

impl Mean {
    fn of(contrast: &Contrast, pixels: impl Iterator<Item = usize>) -> Mean {
        let mut mean = Mean::default();
        for at in pixels {
            let dark = f64::from(contrast.dark[at]);
            mean.lab = [0, 1, 2].map(|part| mean.lab[part] + f64::from(contrast.lab[at][part]));
            mean.dark += dark;
            mean.square += dark * dark;
            mean.count += 1.0;
        }
        let count = mean.count.max(1.0);
        Mean {
            lab: mean.lab.map(|part| part / count),
            dark: mean.dark / count,
            square: mean.square / count,
            count,
        }
    }

    fn spread(&self) -> f64 {
        (self.square - self.dark * self.dark).max(0.0).sqrt()
    }
}

fn spot(contrast: &Contrast, pixels: &[usize], depth: f32) -> Option<Spot> {
    let width = contrast.width;
    let (mut left, mut right, mut top, mut below) = (usize::MAX, 0, usize::MAX, 0);
    for at in pixels {
        let (x, y) = (at % width, at / width);
        (left, right) = (left.min(x), right.max(x));
        (top, below) = (top.min(y), below.max(y));
    }
    let long = (right + 1 - left) as f64 / contrast.scale.0;
    let wide = (below + 1 - top) as f64 / contrast.scale.1;
    if long > LONGEST {
        return None;
    }
    let inside = Mean::of(contrast, pixels.iter().copied());
    let pad = 3 + (below + 1 - top).max(right + 1 - left) / 3;
    let (x0, x1) = (left.saturating_sub(pad), (right + pad).min(width - 1));
    let (y0, y1) = (
        top.saturating_sub(pad),
        (below + pad).min(contrast.height - 1),
    );
    let ring = (y0..=y1).flat_map(|y| (x0..=x1).map(move |x| (x, y)));
    let off = |x: usize, y: usize| x < left || x > right || y < top || y > below;
    let ring = ring.filter(|&(x, y)| off(x, y)).map(|(x, y)| y * width + x);
    let around = Mean::of(contrast, ring);
    let box_area = ((right + 1 - left) * (below + 1 - top)) as f64;
    let most = pixels
        .iter()
        .map(|&at| contrast.dark[at])
        .fold(0.0, f32::max);
    let rim = |at: &&usize| {
        let (x, y) = (**at % width, **at / width);
        x == left || x == right || y == top || y == below
    };
    let rim = pixels.iter().filter(rim).count() as f64;
    let round = 2.0 * (right + 1 - left + below + 1 - top) as f64;
    let features = [
        long,
        wide,
        (long / wide).ln(),
        inside.count / box_area,
        inside.count / contrast.scale.0 / contrast.scale.1,
        inside.dark,
        f64::from(most),
        f64::from(depth),
        around.lab[0] - inside.lab[0],
        inside.lab[1] - around.lab[1],
        inside.lab[2] - around.lab[2],
        around.dark,
        around.spread(),
        rim / round,
    ];
    Some(Spot {
        left,
        right,
        top,
        below,
        features,
    })
}
