//! What lies on the ground, piece by piece.

use super::ground::{Ground, Small};
use crate::photo::colour::Lab;

/// Least part of the picture that a board fills.
const LEAST: f64 = 0.004;

/// The pixels of one piece.
pub struct Piece {
    /// Their places: x, y.
    pub pixels: Vec<(u32, u32)>,
    /// Whether it reaches the picture's rim.
    pub cut: bool,
}

/// All pieces large enough to be a board: first with white paper taken off, then without.
pub fn pieces(small: &Small, ground: &Ground) -> Vec<Piece> {
    let edge = (2.5 * ground.rough).max(7.0);
    let lying: Vec<bool> = ground.off.iter().map(|&off| off > edge).collect();
    let white = whites(small, &lying);
    let wood: Vec<bool> = lying.iter().zip(&white).map(|(l, w)| *l && !*w).collect();
    let mut pieces = connected(small, &opened(small, &wood));
    if white.iter().any(|white| *white) {
        pieces.extend(connected(small, &opened(small, &lying)));
    }
    pieces
}

/// What is as white as the whitest there: paper, or else the palest wood.
fn whites(small: &Small, lying: &[bool]) -> Vec<bool> {
    let mut light: Vec<&Lab> = (small.lab.iter().zip(lying))
        .filter(|(_, lying)| **lying)
        .map(|(lab, _)| lab)
        .collect();
    light.sort_by(|a, b| b.l.total_cmp(&a.l));
    light.truncate(light.len().div_ceil(40));
    let middle = |part: fn(&Lab) -> f64| {
        let mut values: Vec<f64> = light.iter().map(|lab| part(lab)).collect();
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied().unwrap_or(0.0)
    };
    let (l, a, b) = (middle(|p| p.l), middle(|p| p.a), middle(|p| p.b));
    let is_white = |lab: &Lab| {
        // The tint of less light is less.
        let less = (lab.l / l.max(1.0)).min(1.0);
        lab.l > 0.6 * l && (lab.a - a * less).hypot(lab.b - b * less) < 5.0
    };
    (small.lab.iter().zip(lying))
        .map(|(lab, lying)| *lying && is_white(lab))
        .collect()
}

/// Without threads and bridges narrower than three pixels.
fn opened(small: &Small, mask: &[bool]) -> Vec<bool> {
    let all = |mask: &[bool], at: usize, want: bool| {
        let (x, y) = (at % small.width, at / small.width);
        let rows = y.saturating_sub(1)..=(y + 1).min(small.height - 1);
        rows.flat_map(|row| {
            let columns = x.saturating_sub(1)..=(x + 1).min(small.width - 1);
            columns.map(move |column| row * small.width + column)
        })
        .all(|near| mask[near] == want)
    };
    let eroded: Vec<bool> = (0..mask.len()).map(|at| all(mask, at, true)).collect();
    (0..mask.len()).map(|at| !all(&eroded, at, false)).collect()
}

fn connected(small: &Small, mask: &[bool]) -> Vec<Piece> {
    let least = (LEAST * mask.len() as f64) as usize;
    let mut seen = vec![false; mask.len()];
    let mut pieces = Vec::new();
    for start in 0..mask.len() {
        if mask[start] && !seen[start] {
            let pixels = flood(small, mask, &mut seen, start);
            if pixels.len() > least {
                let (wide, high) = (small.width as u32 - 2, small.height as u32 - 2);
                let cut = |&(x, y): &(u32, u32)| x < 2 || y < 2 || x >= wide || y >= high;
                let cut = pixels.iter().any(cut);
                pieces.push(Piece { pixels, cut });
            }
        }
    }
    pieces
}

fn flood(small: &Small, mask: &[bool], seen: &mut [bool], start: usize) -> Vec<(u32, u32)> {
    let mut open = vec![start];
    let mut pixels = Vec::new();
    seen[start] = true;
    while let Some(at) = open.pop() {
        let (x, y) = (at % small.width, at / small.width);
        pixels.push((x as u32, y as u32));
        let near = [
            (x > 0).then(|| at - 1),
            (x + 1 < small.width).then_some(at + 1),
            (y > 0).then(|| at - small.width),
            (y + 1 < small.height).then_some(at + small.width),
        ];
        for next in near.into_iter().flatten() {
            if mask[next] && !seen[next] {
                seen[next] = true;
                open.push(next);
            }
        }
    }
    pixels
}
