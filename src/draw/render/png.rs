//! Drawings as PNG: edges cover the pixels they run through in part, so that curves and slanted
//! lines are smooth.

use ab_glyph::{Font, GlyphId, OutlineCurve};
use tiny_skia::{
    Color, FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Stroke, Transform,
};

use crate::draw::font;
use crate::draw::shape::{Ink, Point, Rect, Shape, Text};
use crate::draw::sheet::Drawing;
use crate::photo::picture::jpeg_of;

/// Pixels in a point: 180 dots an inch, sharp on paper at full width of a letter or A4 sheet.
const SCALE: f64 = 2.5;

impl Drawing {
    /// The drawing as a PNG file, on white.
    pub fn png(&self) -> Vec<u8> {
        Canvas::of(self).png()
    }
}

/// A drawing in pixels, on white; photographs can be put over it.
pub struct Canvas {
    /// Red, green, blue of each pixel, row by row.
    pixels: Vec<u8>,
    width: u32,
    height: u32,
}

impl Canvas {
    /// A drawing, painted.
    pub fn of(drawing: &Drawing) -> Canvas {
        let width = (drawing.width * SCALE).round().max(1.0) as u32;
        let height = (drawing.height * SCALE).round().max(1.0) as u32;
        let mut canvas = Canvas {
            pixels: vec![255; width as usize * height as usize * 3],
            width,
            height,
        };
        if let Some(mut pixmap) = Pixmap::new(width, height) {
            pixmap.fill(Color::WHITE);
            for shape in &drawing.shapes {
                paint(&mut pixmap, shape);
            }
            let opaque = pixmap.data().chunks_exact(4);
            canvas.pixels = opaque
                .flat_map(|pixel| [pixel[0], pixel[1], pixel[2]])
                .collect();
        }
        canvas
    }

    /// Gives the pixels of a rectangle the colours of their places; a place without one stays.
    pub fn fill(&mut self, rect: Rect, colour: impl Fn(Point) -> Option<[u8; 3]>) {
        let first = |at: f64| (at * SCALE).round().max(0.0) as usize;
        let last = |at: f64, most: u32| ((at * SCALE).round() as usize).min(most as usize);
        for y in first(rect.top)..last(rect.bottom, self.height) {
            for x in first(rect.left)..last(rect.right, self.width) {
                let point = Point::new((x as f64 + 0.5) / SCALE, (y as f64 + 0.5) / SCALE);
                if let Some(colour) = colour(point) {
                    let at = 3 * (y * self.width as usize + x);
                    self.pixels[at..][..3].copy_from_slice(&colour);
                }
            }
        }
    }

    /// Paints shapes of a drawing over what is there.
    pub fn over(&mut self, drawing: &Drawing) {
        let Some(mut pixmap) = Pixmap::new(self.width, self.height) else {
            return;
        };
        let there = self.pixels.chunks_exact(3);
        for (pixel, there) in pixmap.data_mut().chunks_exact_mut(4).zip(there) {
            pixel[..3].copy_from_slice(there);
            pixel[3] = 255;
        }
        for shape in &drawing.shapes {
            paint(&mut pixmap, shape);
        }
        let opaque = pixmap.data().chunks_exact(4);
        self.pixels = opaque
            .flat_map(|pixel| [pixel[0], pixel[1], pixel[2]])
            .collect();
    }

    /// As a JPEG file.
    pub fn jpeg(&self) -> Vec<u8> {
        let (width, height) = (self.width as usize, self.height as usize);
        jpeg_of(width, height, &self.pixels)
    }

    /// As a PNG file.
    pub fn png(&self) -> Vec<u8> {
        encode(&self.pixels, self.width, self.height).unwrap_or_default()
    }
}

fn paint(pixmap: &mut Pixmap, shape: &Shape) {
    match shape {
        Shape::Area { points, fill } => {
            if let Some(path) = path(points, true) {
                let rule = FillRule::Winding;
                pixmap.fill_path(&path, &ink(*fill), rule, to_pixels(), None);
            }
        }
        Shape::Stroke {
            points,
            width,
            ink: colour,
        } => {
            if let Some(path) = path(points, false) {
                let stroke = Stroke {
                    width: *width as f32,
                    line_cap: LineCap::Butt,
                    line_join: LineJoin::Miter,
                    ..Stroke::default()
                };
                pixmap.stroke_path(&path, &ink(*colour), &stroke, to_pixels(), None);
            }
        }
        Shape::Text(text) if text.has_fraction() => {
            text.set().iter().for_each(|part| paint(pixmap, part));
        }
        Shape::Text(text) => write(pixmap, text),
    }
}

/// From points on the sheet to pixels.
fn to_pixels() -> Transform {
    Transform::from_scale(SCALE as f32, SCALE as f32)
}

fn ink(ink: Ink) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(ink.0, ink.1, ink.2, 255);
    paint
}

fn path(points: &[Point], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (i, point) in points.iter().enumerate() {
        let (x, y) = (point.x as f32, point.y as f32);
        match i {
            0 => path.move_to(x, y),
            _ => path.line_to(x, y),
        }
    }
    if closed {
        path.close();
    }
    path.finish()
}

/// Writes a text, letter by letter, each an outline of the program's font.
fn write(pixmap: &mut Pixmap, text: &Text) {
    let face = text.weight.face();
    let em = text.size / font::units_per_em(text.weight);
    let start = text.start();
    let mut along = 0.0;
    let paint = ink(text.ink);
    let mut letter = [0; 4];
    for sign in text.words.chars() {
        let place = match text.upward {
            true => Transform::from_row(
                0.0,
                -em as f32,
                -em as f32,
                0.0,
                start.x as f32,
                (start.y - along) as f32,
            ),
            false => Transform::from_row(
                em as f32,
                0.0,
                0.0,
                -em as f32,
                (start.x + along) as f32,
                start.y as f32,
            ),
        };
        if let Some(glyph) = outline(face, face.glyph_id(sign)) {
            let transform = place.post_concat(to_pixels());
            pixmap.fill_path(&glyph, &paint, FillRule::Winding, transform, None);
        }
        along += font::width(sign.encode_utf8(&mut letter), text.size, text.weight);
    }
}

/// A glyph's outline in the font's own units, upwards from the base line.
fn outline(face: &impl Font, glyph: GlyphId) -> Option<Path> {
    let outline = face.outline(glyph)?;
    let mut path = PathBuilder::new();
    let mut at = None;
    for curve in outline.curves {
        let from = match &curve {
            OutlineCurve::Line(from, _)
            | OutlineCurve::Quad(from, ..)
            | OutlineCurve::Cubic(from, ..) => *from,
        };
        // A curve that does not go on from the last one begins another contour.
        if at != Some(from) {
            if at.is_some() {
                path.close();
            }
            path.move_to(from.x, from.y);
        }
        at = Some(match curve {
            OutlineCurve::Line(_, to) => {
                path.line_to(to.x, to.y);
                to
            }
            OutlineCurve::Quad(_, by, to) => {
                path.quad_to(by.x, by.y, to.x, to.y);
                to
            }
            OutlineCurve::Cubic(_, a, b, to) => {
                path.cubic_to(a.x, a.y, b.x, b.y, to.x, to.y);
                to
            }
        });
    }
    path.close();
    path.finish()
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
    use crate::draw::Weight;

    fn drawn(shape: Shape) -> Canvas {
        let mut drawing = Drawing::new(40.0, "");
        drawing.height = 40.0;
        drawing.shapes.push(shape);
        Canvas::of(&drawing)
    }

    /// Ink that a canvas bears, in pixels that are wholly black.
    fn black(canvas: &Canvas) -> f64 {
        let levels = canvas
            .pixels
            .chunks_exact(3)
            .map(|pixel| f64::from(pixel[0]));
        levels.map(|level| 1.0 - level / 255.0).sum()
    }

    /// A slanted line covers its length times its width, however it lies on the pixels: geometry,
    /// not the renderer, says so. Drawn in whole pixels it would be off by a quarter and more.
    #[test]
    fn a_slanted_line_is_as_black_as_it_is_long_and_wide() {
        for (x, y) in [(30.0, 11.3), (25.7, 30.0), (33.0, 5.5)] {
            let canvas = drawn(Shape::Stroke {
                points: vec![Point::new(5.0, 5.0), Point::new(x, y)],
                width: 0.7,
                ink: Ink::BLACK,
            });
            let long = (x - 5.0).hypot(y - 5.0);
            let share = black(&canvas) / (long * 0.7 * SCALE * SCALE);
            assert!((share - 1.0).abs() < 0.02, "{share}");
        }
    }

    /// An edge half way through a pixel covers half of it.
    #[test]
    fn a_pixel_is_as_dark_as_it_is_covered() {
        let rect = Rect::new(4.0, 4.0, 20.5 / SCALE, 12.0);
        let canvas = drawn(Shape::Area {
            points: rect.corners().to_vec(),
            fill: Ink::BLACK,
        });
        let at = |x: usize| canvas.pixels[3 * (20 * canvas.width as usize + x)];
        assert_eq!((at(19), at(21)), (0, 255));
        assert!((f64::from(at(20)) - 127.5).abs() < 3.0, "{}", at(20));
    }

    /// Upward words are the level ones turned by a quarter; edges are sampled, so small letters differ a
    /// little.
    #[test]
    fn words_bear_as_much_ink_upward_as_level() {
        let text = Text {
            weight: Weight::Bold,
            ..Text::new("Oak 8", 6.0, 34.0, 9.0)
        };
        let level = black(&drawn(Shape::Text(text.clone())));
        let upward = black(&drawn(Shape::Text(text.upward())));
        assert!(
            level > 50.0 && (level - upward).abs() < level * 0.1,
            "{level} {upward}"
        );
    }
}
