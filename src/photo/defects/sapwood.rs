//! Sapwood: a pale band along an edge, nearly as long as the board.

use super::Proposal;
use crate::job::DefectKind;
use crate::photo::colour::Lab;
use crate::photo::plane::Strip;

/// How much paler in L* than the rest it is at least.
const PALER: f64 = 7.0;
/// Widest part of the board that a band at one edge takes.
const WIDEST: f64 = 0.45;
/// Rows looked at across.
const ROWS: usize = 60;

/// Pale bands at either edge.
pub fn propose(face: &Strip) -> Vec<Proposal> {
    let rows = profile(face);
    let near: Vec<f64> = rows.iter().rev().copied().collect();
    let bands = [(band(&near), true), (band(&rows), false)];
    bands
        .into_iter()
        .filter_map(|(band, near)| {
            let (part, confidence) = band?;
            let wide = part * face.window.width();
            let (low, high) = (face.window.low, face.window.high);
            let (low, high) = if near {
                (low, low + wide)
            } else {
                (high - wide, high)
            };
            Some(Proposal {
                kind: DefectKind::Sap,
                edges: [face.window.from, face.window.to, low, high],
                confidence,
            })
        })
        .collect()
}

/// Median lightness along, row by row from the far edge.
fn profile(face: &Strip) -> Vec<f64> {
    (0..ROWS)
        .map(|part| {
            let row = (2 * part + 1) * face.height / (2 * ROWS);
            let columns = (0..face.width).step_by((face.width / 200).max(1));
            let mut light: Vec<f64> = columns
                .map(|column| Lab::of_linear(face.pixel(column, row)).l)
                .collect();
            light.sort_by(f64::total_cmp);
            light[light.len() / 2]
        })
        .collect()
}

/// How wide a pale band the first rows are, as a part, and how sure it is.
fn band(rows: &[f64]) -> Option<(f64, f64)> {
    let most = (WIDEST * rows.len() as f64) as usize;
    let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
    let step = |at: usize| mean(&rows[1..at]) - mean(&rows[at..rows.len() - 1]);
    // The step is where what lies within a twentieth to either side differs most.
    let local = |at: usize| mean(&rows[at.saturating_sub(3)..at]) - mean(&rows[at..at + 3]);
    let at = (4..most).max_by(|&a, &b| local(a).total_cmp(&local(b)))?;
    let (whole, here) = (step(at), local(at));
    (whole > PALER && here > 0.5 * PALER).then(|| {
        let sure = 1.0 - (-(whole - PALER) / 6.0).exp();
        (at as f64 / rows.len() as f64, 0.4 + 0.5 * sure)
    })
}
