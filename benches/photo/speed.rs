//! Time and memory for a pile of pictures as a phone takes them.

use std::time::Instant;

use grainrow::photo::face::{View, measure, see};
use grainrow::photo::outline::find_boards;
use rayon::prelude::*;

use crate::camera::{Shot, take};
use crate::shape::long_board;
use crate::wood::Scans;

pub fn run(scans: &Scans) {
    let board = long_board(scans, 45.0);
    // Two long boards in one scene: 3900 by 1000 pixels or so.
    let shot = Shot {
        scale: 40.0,
        ..Shot::default()
    };
    let taken = take(&[&board, &board], &shot);
    let size = (board.window.length(), board.window.width());
    println!(
        "picture {} by {}: {:.1} million pixels",
        taken.width,
        taken.height,
        (taken.width * taken.height) as f64 / 1e6
    );
    let start = Instant::now();
    let told: Vec<f64> = (0..14)
        .into_par_iter()
        .map(|_| {
            let mut sights = Vec::new();
            for _ in 0..2 {
                let first = taken.picture();
                let found = find_boards(&first, &[size; 2]);
                let corners = found[0].map_or(taken.corners[0], |found| found.corners);
                std::hint::black_box(first.shrunk(3));
                drop(first);
                let view = View {
                    window: board.window,
                    corners,
                    white: None,
                };
                sights.extend(see(&taken.picture(), &view));
            }
            let measured = measure(sights, board.window, 6.0).expect("a face");
            let face = &measured.face;
            let jpeg = grainrow::photo::picture::jpeg_of(face.width, face.height, &face.bytes());
            measured.colour.lab.l + jpeg.len() as f64
        })
        .collect();
    std::hint::black_box(told);
    println!(
        "28 pictures, 14 boards: {:.1} s",
        start.elapsed().as_secs_f64()
    );
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find(|line| line.starts_with("VmHWM"));
    println!(
        "peak memory, with what the bench itself holds: {}",
        peak.unwrap_or("unknown")
    );
}
