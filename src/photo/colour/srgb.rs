//! sRGB bytes and linear light. IEC 61966-2-1.

use std::sync::LazyLock;

static LINEAR: LazyLock<[f32; 256]> = LazyLock::new(|| {
    std::array::from_fn(|byte| {
        let value = byte as f64 / 255.0;
        let linear = if value <= 0.04045 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        };
        linear as f32
    })
});

/// The light of every sRGB byte, 0 to 1.
pub fn linear_lights() -> &'static [f32; 256] {
    &LINEAR
}

/// The light of an sRGB byte, 0 to 1.
pub fn to_linear(byte: u8) -> f32 {
    LINEAR[usize::from(byte)]
}

/// The sRGB byte of a light; beyond 0 to 1, that of the end.
pub fn to_byte(linear: f32) -> u8 {
    let linear = f64::from(linear).clamp(0.0, 1.0);
    let value = if linear <= 0.003_130_8 {
        linear * 12.92
    } else {
        1.055 * linear.powf(1.0 / 2.4) - 0.055
    };
    // Within 0 to 255 by the line above.
    (value * 255.0).round() as u8
}
