//! The difference of two colours as the eye takes it: CIEDE2000, in the notation of Sharma, Wu and
//! Dalal, "The CIEDE2000 color-difference formula", Color Research and Application 30 (2005) 21-30.

use super::Lab;

/// dE00 of two colours, with all parametric factors 1.
pub fn delta_e(one: Lab, two: Lab) -> f64 {
    let chroma = |lab: Lab| lab.a.hypot(lab.b);
    let g = 0.5 * (1.0 - seventh((chroma(one) + chroma(two)) / 2.0));
    let polar = |lab: Lab| {
        let a = (1.0 + g) * lab.a;
        let hue = lab.b.atan2(a).to_degrees().rem_euclid(360.0);
        (
            a.hypot(lab.b),
            if a == 0.0 && lab.b == 0.0 { 0.0 } else { hue },
        )
    };
    let ((c1, h1), (c2, h2)) = (polar(one), polar(two));
    let grey = c1 * c2 == 0.0;
    let d_hue = if grey { 0.0 } else { turn(h2 - h1) };
    let d_h = 2.0 * (c1 * c2).sqrt() * (d_hue / 2.0).to_radians().sin();
    let (l, c) = ((one.l + two.l) / 2.0, (c1 + c2) / 2.0);
    let h = if grey { h1 + h2 } else { mean_hue(h1, h2) };
    let lightness = (two.l - one.l) / (1.0 + lightness_weight(l));
    let chroma = (c2 - c1) / (1.0 + 0.045 * c);
    let hue = d_h / (1.0 + 0.015 * c * hue_weight(h));
    let rotation = -(2.0 * 30.0 * (-((h - 275.0) / 25.0).powi(2)).exp())
        .to_radians()
        .sin()
        * 2.0
        * seventh(c);
    (lightness * lightness + chroma * chroma + hue * hue + rotation * chroma * hue).sqrt()
}

/// `sqrt(C^7 / (C^7 + 25^7))`.
fn seventh(c: f64) -> f64 {
    let c = c.powi(7);
    (c / (c + 25f64.powi(7))).sqrt()
}

/// An angle within half a turn either way.
fn turn(degrees: f64) -> f64 {
    match degrees {
        d if d > 180.0 => d - 360.0,
        d if d < -180.0 => d + 360.0,
        d => d,
    }
}

fn mean_hue(h1: f64, h2: f64) -> f64 {
    let sum = h1 + h2;
    match (h1 - h2).abs() <= 180.0 {
        true => sum / 2.0,
        false if sum < 360.0 => (sum + 360.0) / 2.0,
        false => (sum - 360.0) / 2.0,
    }
}

fn lightness_weight(l: f64) -> f64 {
    let off = (l - 50.0).powi(2);
    0.015 * off / (20.0 + off).sqrt()
}

fn hue_weight(h: f64) -> f64 {
    let wave = |times: f64, shift: f64| (times * h + shift).to_radians().cos();
    1.0 - 0.17 * wave(1.0, -30.0) + 0.24 * wave(2.0, 0.0) + 0.32 * wave(3.0, 6.0)
        - 0.20 * wave(4.0, -63.0)
}
