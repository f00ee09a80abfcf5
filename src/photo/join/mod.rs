//! Several photographs of one board, joined where they overlap.
//!
//! Each is straightened by itself, with the length it is said to show. Its places are then moved and
//! stretched a little, so that the same wood lies at the same place in neighbours; the ends of the
//! board stay where they are.

mod figure;

use rayon::prelude::*;

use figure::Figure;

use super::plane::{Strip, Window, least_squares};

/// Furthest that a picture is looked for from where it is said to be, in inches.
const REACH: f64 = 2.5;
/// Length of the blocks compared, in inches.
const BLOCK: f64 = 2.0;
/// Pixels an inch at which blocks are compared.
const SCALE: f64 = 24.0;
/// Correlation below which two blocks are not the same wood.
const ALIKE: f64 = 0.5;

/// How a part lies on the board: `shift + stretch * (along - middle) + middle`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lay {
    /// Inches it is moved along.
    pub shift: f64,
    /// How much longer it becomes.
    pub stretch: f64,
    middle: f64,
}

impl Lay {
    /// The place on the board of a place of the part.
    pub fn on_board(&self, along: f64) -> f64 {
        self.middle + self.shift + self.stretch * (along - self.middle)
    }

    fn on_part(&self, along: f64) -> f64 {
        self.middle + (along - self.middle - self.shift) / self.stretch
    }
}

/// A board from its parts, and how each lies.
#[derive(Clone, Debug)]
pub struct Joined {
    /// The whole.
    pub strip: Strip,
    /// One a part, in their order.
    pub lays: Vec<Lay>,
    /// The least of the overlaps' mean correlations; 1 where there is none.
    pub confidence: f64,
}

/// The same wood at a place of one part and at a place of the next.
struct Match {
    left: usize,
    here: f64,
    there: f64,
    alike: f64,
}

/// Joins parts that follow one another along a board of a known length.
///
/// # Panics
/// When there are no parts.
pub fn join(parts: &[Strip], whole: Window) -> Joined {
    let small: Vec<Strip> = parts.iter().map(coarse).collect();
    let matches: Vec<Match> = (1..parts.len())
        .into_par_iter()
        .flat_map_iter(|right| matches(&small, right))
        .collect();
    let lays = lays(parts, &matches, whole);
    let confidence = (1..parts.len())
        .map(|right| {
            let of_pair = matches.iter().filter(|m| m.left + 1 == right);
            let alike: Vec<f64> = of_pair.map(|m| m.alike).collect();
            alike.iter().sum::<f64>() / alike.len().max(1) as f64
        })
        .fold(1.0, f64::min);
    let strip = laid(parts, &lays, whole);
    Joined {
        strip,
        lays,
        confidence,
    }
}

fn coarse(part: &Strip) -> Strip {
    part.shrunk((part.scale / SCALE).round().max(1.0) as usize)
}

/// Blocks of the overlap of a part and the one before it.
fn matches(parts: &[Strip], right: usize) -> Vec<Match> {
    let (before, after) = (&parts[right - 1], &parts[right]);
    let (one, two) = (Figure::of(before), Figure::of(after));
    let from = after.window.from.max(before.window.from + 0.2);
    let to = before.window.to.min(after.window.to - 0.2);
    let count = ((to - from) / (0.75 * BLOCK)).floor().clamp(0.0, 24.0) as usize;
    let found: Vec<Match> = (0..count)
        .filter_map(|at| {
            let middle =
                from + BLOCK / 2.0 + (to - from - BLOCK) * at as f64 / (count.max(2) - 1) as f64;
            let here = before.along(before.column(middle));
            let (there, alike) = one.find(here, &two, BLOCK, REACH)?;
            (alike > ALIKE).then_some(Match {
                left: right - 1,
                here,
                there,
                alike,
            })
        })
        .collect();
    agreeing(found)
}

/// Those nearly as alike as the best that tell nearly the same shift as the middle one: figure
/// repeats, and mistakes with it.
fn agreeing(mut found: Vec<Match>) -> Vec<Match> {
    const NEAR: f64 = 0.5;
    const NEARLY: f64 = 0.8;
    let best = found.iter().map(|m| m.alike).fold(0.0, f64::max);
    found.retain(|m| m.alike >= NEARLY * best);
    let mut shifts: Vec<f64> = found.iter().map(|m| m.there - m.here).collect();
    shifts.sort_by(f64::total_cmp);
    let Some(&middle) = shifts.get(shifts.len() / 2) else {
        return found;
    };
    let all = found.len();
    found.retain(|m| (m.there - m.here - middle).abs() < NEAR);
    if 2 * found.len() > all {
        found
    } else {
        Vec::new()
    }
}

/// How each part lies so that all matches agree best. A part is taken to lie as it is said to, unless
/// its neighbours show otherwise; the board's own ends are sure.
fn lays(parts: &[Strip], matches: &[Match], whole: Window) -> Vec<Lay> {
    const SURE: f64 = 1.0 / (0.01 * 0.01);
    const MATCH: f64 = 1.0 / (0.02 * 0.02);
    // A part may be said to begin an inch off, and be some hundredths longer than it is.
    const SHIFT: f64 = 1.0;
    const STRETCH: f64 = 1.0 / (0.03 * 0.03);
    let middle = |part: &Strip| (part.window.from + part.window.to) / 2.0;
    let middles: Vec<f64> = parts.iter().map(middle).collect();
    let unknowns = 2 * parts.len();
    // Of each part its shift, then its stretch less 1.
    let row = |terms: &[(usize, f64)]| {
        let mut row = vec![0.0; unknowns];
        terms.iter().for_each(|(at, value)| row[*at] += value);
        row
    };
    let mut equations: Vec<(Vec<f64>, f64, f64)> = Vec::new();
    for (part, strip) in parts.iter().enumerate() {
        equations.push((row(&[(2 * part, 1.0)]), 0.0, SHIFT));
        equations.push((row(&[(2 * part + 1, 1.0)]), 0.0, STRETCH));
        for (end, edge) in [(strip.window.from, whole.from), (strip.window.to, whole.to)] {
            if (end - edge).abs() < 1e-6 {
                let off = end - middles[part];
                equations.push((row(&[(2 * part, 1.0), (2 * part + 1, off)]), 0.0, SURE));
            }
        }
    }
    for m in matches {
        let (one, two) = (m.left, m.left + 1);
        let terms = [
            (2 * one, 1.0),
            (2 * one + 1, m.here - middles[one]),
            (2 * two, -1.0),
            (2 * two + 1, middles[two] - m.there),
        ];
        equations.push((row(&terms), m.there - m.here, MATCH));
    }
    let equations = equations
        .iter()
        .map(|(terms, value, weight)| (&terms[..], *value, *weight));
    let found = least_squares(unknowns, equations).unwrap_or_else(|| vec![0.0; unknowns]);
    (0..parts.len())
        .map(|part| Lay {
            shift: found[2 * part],
            stretch: 1.0 + found[2 * part + 1],
            middle: middles[part],
        })
        .collect()
}

/// The whole board: each place from the part whose middle is nearest, over a soft seam.
fn laid(parts: &[Strip], lays: &[Lay], whole: Window) -> Strip {
    let scale = parts.iter().map(|part| part.scale).fold(0.0, f64::max);
    let mut strip = Strip::black(whole, scale);
    for column in 0..strip.width {
        let along = strip.along(column);
        let weights: Vec<(usize, usize, f32)> = (0..parts.len())
            .filter_map(|at| {
                let (part, own) = (&parts[at], lays[at].on_part(along));
                let end = |edge: f64, out: bool| if out { f64::MAX } else { (own - edge).abs() };
                let window = part.window;
                let first = end(window.from, window.from <= whole.from + 1e-6);
                let last = end(window.to, window.to >= whole.to - 1e-6);
                let inside = own >= window.from - 0.05 && own <= window.to + 0.05;
                // Full weight half an inch from where the part ends.
                let weight = (first.min(last) / 0.5).clamp(1e-3, 1.0) as f32;
                inside.then(|| (at, part.column(own), weight))
            })
            .collect();
        let sum: f32 = weights.iter().map(|w| w.2).sum();
        for row in 0..strip.height {
            let across = strip.across(row);
            let mut light = [0.0f32; 3];
            for &(at, own, weight) in &weights {
                let pixel = parts[at].pixel(own, parts[at].row(across));
                light = [0, 1, 2].map(|c| light[c] + pixel[c] * weight / sum.max(1e-6));
            }
            strip.light[row * strip.width + column] = light;
        }
    }
    strip
}

#[cfg(test)]
mod tests;
