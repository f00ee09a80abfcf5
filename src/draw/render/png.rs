//! Drawings as PNG.

use plotters::backend::BitMapBackend;

use super::paint::{Setting, paint};
use crate::draw::sheet::Drawing;

/// Pixels in a point: 180 dots an inch, sharp on paper at full width of a letter or A4 sheet.
const SCALE: f64 = 2.5;

/// This backend takes the height from the font's deepest descender to its highest ascender
/// (483 + 1901 of 2048 units) for a text's size, and starts half that size above the base line.
const SETTING: Setting = Setting {
    scale: SCALE,
    size_for_em: (1901.0 + 483.0) / 2048.0,
    base_line: 0.5,
    anchors: false,
};

impl Drawing {
    /// The drawing as a PNG file, on white.
    pub fn png(&self) -> Vec<u8> {
        let width = (self.width * SCALE).round().max(1.0) as u32;
        let height = (self.height * SCALE).round().max(1.0) as u32;
        let mut pixels = vec![255; width as usize * height as usize * 3];
        let painted = paint(
            &mut BitMapBackend::with_buffer(&mut pixels, (width, height)),
            self,
            &SETTING,
        );
        debug_assert!(painted.is_ok(), "painting into memory cannot fail");
        encode(&pixels, width, height).unwrap_or_default()
    }
}

fn encode(pixels: &[u8], width: u32, height: u32) -> Result<Vec<u8>, png::EncodingError> {
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, width, height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: pixels_per_metre(),
        yppu: pixels_per_metre(),
        unit: png::Unit::Meter,
    }));
    encoder.write_header()?.write_image_data(pixels)?;
    Ok(file)
}

fn pixels_per_metre() -> u32 {
    (SCALE * 72.0 / 0.0254).round() as u32
}
