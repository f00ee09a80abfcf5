//! CIE 1976 L*a*b* for D65 and the 2 degree observer (CIE 15:2004, 8.2.1).

/// A colour in CIE Lab.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Lab {
    /// L*, 0 black to 100 white.
    pub l: f64,
    /// a*, green to red.
    pub a: f64,
    /// b*, blue to yellow.
    pub b: f64,
}

/// Linear sRGB to CIE XYZ (IEC 61966-2-1).
const TO_XYZ: [[f64; 3]; 3] = [
    [0.412_456_4, 0.357_576_1, 0.180_437_5],
    [0.212_672_9, 0.715_152_2, 0.072_175_0],
    [0.019_333_9, 0.119_192_0, 0.950_304_1],
];
/// D65.
const WHITE: [f64; 3] = [0.950_47, 1.0, 1.088_83];

impl Lab {
    /// The colour of linear sRGB light.
    pub fn of_linear(light: [f32; 3]) -> Lab {
        let light = light.map(f64::from);
        let [x, y, z] = [0, 1, 2].map(|row| {
            let sum: f64 = TO_XYZ[row].iter().zip(light).map(|(m, c)| m * c).sum();
            root(sum / WHITE[row])
        });
        Lab {
            l: 116.0 * y - 16.0,
            a: 500.0 * (x - y),
            b: 200.0 * (y - z),
        }
    }

    /// The three figures.
    pub fn parts(self) -> [f64; 3] {
        [self.l, self.a, self.b]
    }
}

fn root(part: f64) -> f64 {
    const EDGE: f64 = 216.0 / 24389.0;
    if part > EDGE {
        part.cbrt()
    } else {
        (24389.0 / 27.0 * part + 16.0) / 116.0
    }
}
