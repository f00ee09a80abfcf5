//! Facing edges: the true neighbour among twenty others.

use grainrow::photo::edge::{Edge, Inward};
use grainrow::photo::plane::Strip;

use crate::wood::Scans;

const WIDE: (f64, f64) = (1.0, 6.0);

pub fn run(scans: &Scans) {
    let runs = scans.runs.iter().filter(|run| run.1.len() > 3);
    let boards: Vec<Strip> = runs.map(|run| scans.board(&run.1, 45.0).strip).collect();
    let edge = |board: &Strip, at: f64, inward| Edge::of(board, at, WIDE, inward, false);
    let mut state = 1u64;
    let mut random = |below: f64| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1u64 << 53) as f64 * below
    };
    for lost in [1.0 / 16.0, 0.125, 0.25, 0.5, 1.0, 2.0] {
        let (mut by_difference, mut by_figure, mut all) = (0, 0, 0);
        for board in &boards {
            for _ in 0..12 {
                let cut = 1.0 + random(board.window.length() - 4.5);
                let here = edge(board, cut, Inward::Hook);
                let true_one = edge(board, cut + lost, Inward::Far);
                let decoys: Vec<Edge> = (0..20)
                    .map(|_| {
                        let other = &boards[random(boards.len() as f64) as usize];
                        let mut at = 1.0 + random(other.window.length() - 2.0);
                        if std::ptr::eq(other, board) && (at - cut - lost).abs() < 1.5 {
                            at = (at + 3.0) % (other.window.length() - 1.0);
                        }
                        edge(other, at, Inward::Far)
                    })
                    .collect();
                let first = |score: &dyn Fn(&Edge) -> f64| {
                    decoys.iter().all(|d| score(d) < score(&true_one))
                };
                by_difference += usize::from(first(&|e| -here.difference(e)));
                by_figure += usize::from(first(&|e| here.alike(e)));
                all += 1;
            }
        }
        let share = |hits: usize| 100.0 * hits as f64 / all as f64;
        println!(
            "facing edges, {lost:.4} in lost: true neighbour first in {:.0} % by dE00, {:.0} % by figure ({all} cuts)",
            share(by_difference),
            share(by_figure)
        );
    }
}
