use super::*;

const WHOLE: Window = Window {
    from: 0.0,
    to: 40.0,
    low: 0.0,
    high: 5.0,
};

/// Wood of no repeating figure: random values in cells much longer than wide, smoothed between.
fn figure(x: f64, y: f64) -> f32 {
    let (x, y) = (x / 0.7, y / 0.12);
    let (left, low) = (x.floor(), y.floor());
    let value = |dx: f64, dy: f64| {
        let cell = ((left + dx) * 127.0 + (low + dy) * 311.0) as i64;
        let mixed = (cell as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        ((mixed ^ (mixed >> 29)).wrapping_mul(0xbf58_476d_1ce4_e5b9) >> 40) as f64
            / (1u64 << 24) as f64
    };
    let (fx, fy) = (x - left, y - low);
    let between = |dy: f64| value(0.0, dy) + (value(1.0, dy) - value(0.0, dy)) * fx;
    (0.3 + 0.1 * (between(0.0) + (between(1.0) - between(0.0)) * fy)) as f32
}

/// A part that shows `from` to `to` and is said to show `told`.
fn part(from: f64, to: f64, told: (f64, f64), bright: f32) -> Strip {
    let window = Window {
        from: told.0,
        to: told.1,
        ..WHOLE
    };
    let mut strip = Strip::black(window, 30.0);
    for row in 0..strip.height {
        for column in 0..strip.width {
            let share = (column as f64 + 0.5) / strip.width as f64;
            let light = bright * figure(from + share * (to - from), strip.across(row));
            strip.light[row * strip.width + column] = [light; 3];
        }
    }
    strip
}

#[test]
fn parts_said_to_begin_too_early_are_moved_to_where_they_lie() {
    // The second is said to begin at 16 and begins at 16.8; its far end is the board's.
    let parts = [
        part(0.0, 24.0, (0.0, 23.5), 1.0),
        part(16.8, 40.0, (16.0, 40.0), 0.9),
    ];
    let joined = join(&parts, WHOLE);
    assert!(joined.confidence > 0.9, "{}", joined.confidence);
    let place = |part: usize, told: f64| joined.lays[part].on_board(told);
    assert!((place(0, 23.5) - 24.0).abs() < 0.1, "{}", place(0, 23.5));
    assert!((place(1, 16.0) - 16.8).abs() < 0.1, "{}", place(1, 16.0));
    assert!(place(0, 0.0).abs() < 0.02 && (place(1, 40.0) - 40.0).abs() < 0.02);
}

#[test]
fn parts_that_show_other_wood_are_not_sure() {
    let mut other = part(16.0, 40.0, (16.0, 40.0), 1.0);
    other.light.reverse();
    let joined = join(&[part(0.0, 24.0, (0.0, 24.0), 1.0), other], WHOLE);
    assert!(joined.confidence < 0.5, "{}", joined.confidence);
    assert!(joined.lays.iter().all(|lay| lay.shift.abs() < 0.01));
}

#[test]
fn one_part_is_the_board() {
    let parts = [part(0.0, 40.0, (0.0, 40.0), 1.0)];
    let joined = join(&parts, WHOLE);
    assert_eq!(joined.confidence, 1.0);
    let off = joined.strip.light.iter().zip(&parts[0].light);
    assert!(off.map(|(a, b)| (a[0] - b[0]).abs()).fold(0.0, f32::max) < 1e-6);
}
