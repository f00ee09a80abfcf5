//! Drawings as PNG.

use plotters::backend::BitMapBackend;

use super::paint::{Setting, paint};
use crate::draw::shape::{Point, Rect};
use crate::draw::sheet::Drawing;

/// Pixels in a point: 180 dots an inch, sharp on paper at full width of a letter or A4 sheet.
const SCALE: f64 = 2.5;
/// Dots across a pixel. The backend draws slanted lines in steps of whole dots: painted larger and
/// made smaller again, the steps become shades.
const DOTS: u32 = 2;

/// This backend takes the height from the font's deepest descender to its highest ascender
/// (483 + 1901 of 2048 units) for a text's size, and starts half that size above the base line.
const SETTING: Setting = Setting {
    scale: SCALE * DOTS as f64,
    size_for_em: (1901.0 + 483.0) / 2048.0,
    base_line: 0.5,
    anchors: false,
};

impl Drawing {
    /// The drawing as a PNG file, on white.
    pub fn png(&self) -> Vec<u8> {
        Canvas::of(self).png()
    }
}

/// A drawing in dots, on white; photographs can be put over it.
pub struct Canvas {
    dots: Vec<u8>,
    /// In pixels.
    width: u32,
    height: u32,
}

impl Canvas {
    /// A drawing, painted.
    pub fn of(drawing: &Drawing) -> Canvas {
        let width = (drawing.width * SCALE).round().max(1.0) as u32;
        let height = (drawing.height * SCALE).round().max(1.0) as u32;
        let size = (width * DOTS, height * DOTS);
        let mut dots = vec![255; size.0 as usize * size.1 as usize * 3];
        let painted = paint(
            &mut BitMapBackend::with_buffer(&mut dots, size),
            drawing,
            &SETTING,
        );
        debug_assert!(painted.is_ok(), "painting into memory cannot fail");
        Canvas {
            dots,
            width,
            height,
        }
    }

    /// Gives the dots of a rectangle the colours of their places; a place without one stays.
    pub fn fill(&mut self, rect: Rect, colour: impl Fn(Point) -> Option<[u8; 3]>) {
        let scale = SCALE * f64::from(DOTS);
        let first = |at: f64| (at * scale).round().max(0.0) as usize;
        let last = |at: f64, most: u32| ((at * scale).round() as usize).min((most * DOTS) as usize);
        let in_row = (self.width * DOTS) as usize;
        for y in first(rect.top)..last(rect.bottom, self.height) {
            for x in first(rect.left)..last(rect.right, self.width) {
                let point = Point::new((x as f64 + 0.5) / scale, (y as f64 + 0.5) / scale);
                if let Some(colour) = colour(point) {
                    self.dots[3 * (y * in_row + x)..][..3].copy_from_slice(&colour);
                }
            }
        }
    }

    /// As a PNG file.
    pub fn png(&self) -> Vec<u8> {
        let pixels = smaller(&self.dots, self.width);
        encode(&pixels, self.width, self.height).unwrap_or_default()
    }
}

/// Each pixel the mean of its dots; `width` in pixels.
fn smaller(dots: &[u8], width: u32) -> Vec<u8> {
    let (width, across) = (width as usize, DOTS as usize);
    let in_row = width * across * 3;
    let mut pixels = Vec::with_capacity(dots.len() / (across * across));
    let mut sums = vec![0u16; width * 3];
    for rows in dots.chunks_exact(in_row * across) {
        sums.fill(0);
        for row in rows.chunks_exact(in_row) {
            for (sum, pixel) in sums.chunks_exact_mut(3).zip(row.chunks_exact(across * 3)) {
                for dot in pixel.chunks_exact(3) {
                    for (sum, &level) in sum.iter_mut().zip(dot) {
                        *sum += u16::from(level);
                    }
                }
            }
        }
        pixels.extend(sums.iter().map(|&sum| (sum / (DOTS * DOTS) as u16) as u8));
    }
    pixels
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pixel_is_the_mean_of_its_dots() {
        // Two pixels, the left one black but for one dot, the right one white.
        let mut dots = vec![255; 4 * 2 * 3];
        for row in 0..2 {
            dots[row * 12..row * 12 + 6].fill(0);
        }
        dots[0..3].fill(90);
        assert_eq!(smaller(&dots, 2), [22, 22, 22, 255, 255, 255]);
    }
}
