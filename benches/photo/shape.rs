//! Places on straightened and joined boards, and the slope of the grain.

use grainrow::photo::grain::slope_of;
use grainrow::photo::join::join;
use grainrow::photo::plane::{Homography, Point, Strip, Window, straighten};

use crate::camera::{Shot, take};
use crate::tone::part;
use crate::wood::Scans;

/// Boards end to end: one of about 8 ft.
pub fn long_board(scans: &Scans, scale: f64) -> Strip {
    let mut runs: Vec<_> = scans.runs.iter().filter(|run| run.1.len() >= 7).collect();
    runs.sort_by_key(|run| std::cmp::Reverse(run.1.len()));
    let strips: Vec<Strip> = runs
        .iter()
        .map(|run| scans.board(&run.1, scale).strip)
        .collect();
    let width: usize = strips.iter().map(|strip| strip.width).sum();
    let (height, scale) = (strips[0].height, strips[0].scale);
    let light = (0..height)
        .flat_map(|row| {
            strips
                .iter()
                .flat_map(move |strip| &strip.light[row * strip.width..][..strip.width])
        })
        .copied()
        .collect();
    let window = Window {
        from: 0.0,
        to: width as f64 / scale,
        ..strips[0].window
    };
    Strip {
        window,
        scale,
        width,
        height,
        light,
    }
}

/// A part of a board.
pub fn crop(board: &Strip, from: f64, to: f64) -> Strip {
    let (first, last) = (board.column(from), board.column(to));
    let light = (0..board.height)
        .flat_map(|row| {
            board.light[row * board.width + first..][..last - first]
                .iter()
                .copied()
        })
        .collect();
    let at = |column: usize| column as f64 / board.scale;
    let window = Window {
        from: at(first),
        to: at(last),
        ..board.window
    };
    Strip {
        window,
        width: last - first,
        light,
        ..*board
    }
}

fn mapping(window: Window, corners: [Point; 4]) -> Homography {
    let Window {
        from,
        to,
        low,
        high,
    } = window;
    let board = [(from, low), (to, low), (to, high), (from, high)];
    Homography::between(board.map(|(x, y)| Point::new(x, y)), corners).expect("a board")
}

pub fn run(scans: &Scans) {
    let board = long_board(scans, 45.0);
    println!("long board: {:.1} in", board.window.length());
    joined(&board);
    grain(scans);
}

/// Two photographs that overlap by 30 %, said to begin and end up to 0.3 in from where they do.
fn joined(board: &Strip) {
    let long = board.window.length();
    let (mut at_joint, mut at_end, mut missed) = (Vec::new(), Vec::new(), 0);
    for round in 0..8 {
        let (to, from) = (
            0.575 * long + round as f64 * 0.7,
            0.425 * long + round as f64 * 0.7 - 6.0,
        );
        let sloppy = |at: u64| ((at * 7919 % 13) as f64 / 6.0 - 1.0) * 0.3;
        let parts = [
            (0.0, to, 0.0, to + sloppy(round)),
            (from, long, from + sloppy(round + 5), long),
        ];
        let strips = parts.map(|(from, to, told_from, told_to)| {
            let part = crop(board, from, to);
            let shot = Shot {
                seed: round * 2 + (from > 0.0) as u64,
                ..Shot::default()
            };
            let taken = take(&[&part], &shot);
            let told = Window {
                from: told_from,
                to: told_to.min(long),
                ..part.window
            };
            straighten(
                &taken.picture(),
                &mapping(told, taken.corners[0]),
                told,
                45.0,
            )
        });
        let joined = join(&strips, board.window);
        if joined.confidence < 0.5 {
            missed += 1;
            continue;
        }
        // The same wood in either part.
        let place = |at: usize, wood: f64| {
            let (from, to, told_from, told_to) = parts[at];
            let told = told_from + (wood - from) / (to - from) * (told_to.min(long) - told_from);
            joined.lays[at].on_board(told)
        };
        let wood = (from + to) / 2.0;
        at_joint.push((place(0, wood) - place(1, wood)).abs());
        at_end.push(
            (place(1, long - 0.5) - (long - 0.5))
                .abs()
                .max((place(0, wood) - wood).abs()),
        );
    }
    println!(
        "joining, 30 % overlap, told up to 0.3 in off: at the joint median {:.3} in, worst {:.3}; \
         place on the board median {:.3}, worst {:.3}; not joined {missed}",
        part(&mut at_joint, 0.5),
        part(&mut at_joint, 1.0),
        part(&mut at_end, 0.5),
        part(&mut at_end, 1.0)
    );
}

/// Scans turned by known angles: what is found must turn by as much.
fn grain(scans: &Scans) {
    let mut off = Vec::new();
    for (_, run) in scans.runs.iter().filter(|run| run.1.len() > 2) {
        let board = scans.board(run, 90.0).strip;
        let turned = |degrees: f64| turned(&board, degrees);
        let Some(level) = slope_of(&turned(0.0)) else {
            continue;
        };
        for degrees in [-10.0, -6.0, -3.0, 3.0, 6.0, 10.0] {
            if let Some(slope) = slope_of(&turned(degrees)) {
                off.push((slope.degrees - level.degrees - degrees).abs());
            }
        }
    }
    let count = off.len();
    println!(
        "grain, {count} scans turned: median {:.2} degrees off, 95 % {:.2}",
        part(&mut off, 0.5),
        part(&mut off, 0.95)
    );
}

/// The middle of a board, its wood turned against its edges.
fn turned(board: &Strip, degrees: f64) -> Strip {
    let window = Window {
        from: 0.0,
        to: board.window.length() - 2.0,
        low: 0.0,
        high: 4.0,
    };
    let mut strip = Strip::black(window, 45.0);
    let (sin, cos) = degrees.to_radians().sin_cos();
    let middle = (board.window.length() / 2.0, 3.5);
    for at in 0..strip.light.len() {
        let (x, y) = (
            strip.along(at % strip.width) - window.to / 2.0,
            strip.across(at / strip.width) - 2.0,
        );
        let (u, v) = (middle.0 + x * cos + y * sin, middle.1 - x * sin + y * cos);
        strip.light[at] = board.pixel(board.column(u), board.row(v));
    }
    strip
}
