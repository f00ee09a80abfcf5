use super::*;
use crate::photo::plane::{Strip, Window};

/// Lines at a known angle, saw marks across them and a little noise.
fn lines(degrees: f64, saw: f64) -> Strip {
    let window = Window {
        from: 0.0,
        to: 12.0,
        low: 0.0,
        high: 6.0,
    };
    let mut strip = Strip::black(window, 45.0);
    let angle = degrees.to_radians();
    let mut state = 1u32;
    for row in 0..strip.height {
        for column in 0..strip.width {
            let (x, y) = (strip.along(column), strip.across(row));
            // Square to the lines.
            let off = y * angle.cos() - x * angle.sin();
            let ring = 0.25 * (off * 30.0 + (off * 7.0).sin()).sin();
            let mark = saw * (x * 20.0 + y * 0.5).sin();
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = f64::from(state >> 16) / 65_536.0 * 0.04;
            let light = (0.4 * (1.0 + ring + mark) + noise) as f32;
            strip.light[row * strip.width + column] = [light; 3];
        }
    }
    strip
}

#[test]
fn rendered_grain_is_read_within_a_degree() {
    for degrees in [-12.0, -5.0, -1.0, 0.0, 2.0, 4.8, 7.1, 15.0] {
        let found = slope_of(&lines(degrees, 0.0)).unwrap();
        assert!(
            (found.degrees - degrees).abs() < 1.0,
            "{degrees}: {found:?}"
        );
        assert!(found.confidence > 0.4, "{}", found.confidence);
    }
}

#[test]
fn saw_marks_do_not_turn_it() {
    for degrees in [-6.0, 0.0, 6.0] {
        let found = slope_of(&lines(degrees, 0.3)).unwrap();
        assert!(
            (found.degrees - degrees).abs() < 1.0,
            "{degrees}: {found:?}"
        );
    }
}

/// The tangent of 4.764 degrees is 1/12, of 7.125 degrees 1/8.
#[test]
fn a_slope_is_told_as_the_trade_does() {
    let slope = |degrees| Slope {
        from: 0.0,
        to: 6.0,
        degrees,
        confidence: 1.0,
    };
    assert!((slope(4.764).one_in() - 12.0).abs() < 0.01);
    assert!((slope(-4.764).one_in() - 12.0).abs() < 0.01);
    assert!(slope(7.2).is_steep() && slope(-7.2).is_steep() && !slope(7.0).is_steep());
}
