//! The face of a board, or a part of it, as if seen from straight above.

use crate::photo::colour::to_byte;

/// A part of a board's plane, in inches. It may reach beyond the board.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Window {
    /// Along, from the hook end.
    pub from: f64,
    /// Along, from the hook end.
    pub to: f64,
    /// Across, from the near edge.
    pub low: f64,
    /// Across, from the near edge.
    pub high: f64,
}

/// A straightened picture in linear light: hook end left, near edge at the bottom.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Strip {
    /// What it shows.
    pub window: Window,
    /// Pixels an inch.
    pub scale: f64,
    /// Pixels along.
    pub width: usize,
    /// Pixels across.
    pub height: usize,
    /// The light, row by row from the far edge down.
    #[serde(skip)]
    pub light: Vec<[f32; 3]>,
}

impl Window {
    /// Length along.
    pub fn length(&self) -> f64 {
        self.to - self.from
    }

    /// Width across.
    pub fn width(&self) -> f64 {
        self.high - self.low
    }
}

impl Strip {
    /// A black one.
    pub fn black(window: Window, scale: f64) -> Strip {
        let pixels = |inches: f64| ((inches * scale).round() as usize).max(1);
        let (width, height) = (pixels(window.length()), pixels(window.width()));
        Strip {
            window,
            scale,
            width,
            height,
            light: vec![[0.0; 3]; width * height],
        }
    }

    /// Inches along of a column's middle.
    pub fn along(&self, column: usize) -> f64 {
        self.window.from + (column as f64 + 0.5) * self.window.length() / self.width as f64
    }

    /// Inches across of a row's middle.
    pub fn across(&self, row: usize) -> f64 {
        self.window.high - (row as f64 + 0.5) * self.window.width() / self.height as f64
    }

    /// The column at so many inches along, the nearest there is.
    pub fn column(&self, along: f64) -> usize {
        let part = (along - self.window.from) / self.window.length();
        ((part * self.width as f64).max(0.0) as usize).min(self.width - 1)
    }

    /// The row at so many inches across, the nearest there is.
    pub fn row(&self, across: f64) -> usize {
        let part = (self.window.high - across) / self.window.width();
        ((part * self.height as f64).max(0.0) as usize).min(self.height - 1)
    }

    /// The light of a pixel.
    pub fn pixel(&self, column: usize, row: usize) -> [f32; 3] {
        self.light[row * self.width + column]
    }

    /// Its relative luminance, row by row.
    pub fn luminance(&self) -> Vec<f32> {
        self.light.iter().map(|&light| luminance(light)).collect()
    }

    /// The same with `by` times `by` pixels made one.
    pub fn shrunk(&self, by: usize) -> Strip {
        let mut small = Strip::black(self.window, self.scale / by as f64);
        small.width = (self.width / by).max(1);
        small.height = (self.height / by).max(1);
        small.light = (0..small.width * small.height)
            .map(|at| self.mean_of(at % small.width * by, at / small.width * by, by))
            .collect();
        small
    }

    fn mean_of(&self, left: usize, top: usize, size: usize) -> [f32; 3] {
        let mut sum = [0.0f32; 3];
        let mut count = 0.0f32;
        for row in top..(top + size).min(self.height) {
            for column in left..(left + size).min(self.width) {
                let light = self.pixel(column, row);
                sum = [0, 1, 2].map(|c| sum[c] + light[c]);
                count += 1.0;
            }
        }
        sum.map(|c| c / count.max(1.0))
    }

    /// Its pixels as sRGB bytes.
    pub fn bytes(&self) -> Vec<u8> {
        self.light.iter().flat_map(|l| l.map(to_byte)).collect()
    }
}

/// Relative luminance of linear sRGB (IEC 61966-2-1).
pub fn luminance(light: [f32; 3]) -> f32 {
    0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]
}
