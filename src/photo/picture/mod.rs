//! One photograph as it is seen: upright, in sRGB, without anything it tells of place, time or
//! device.

mod jpeg;
mod open;
mod profile;
mod trouble;
mod write;

pub use open::{MOST_PIXELS, open};
pub use trouble::PictureTrouble;
pub use write::{jpeg_of, png_of};

use super::colour::{linear_lights, to_linear};

/// A picture of sRGB bytes, row by row from its top, three a pixel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    bytes: Vec<u8>,
    /// Whether the file named a colour space that could not be understood, so that sRGB was taken.
    pub guessed_colours: bool,
}

impl Picture {
    /// A picture from its bytes; nothing when they are not `3 * width * height`.
    pub fn new(width: usize, height: usize, bytes: Vec<u8>) -> Option<Picture> {
        (bytes.len() == 3 * width * height).then_some(Picture {
            width,
            height,
            bytes,
            guessed_colours: false,
        })
    }

    /// Its bytes.
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// A pixel in linear light; beyond the edge, that of the edge.
    pub fn linear(&self, x: isize, y: isize) -> [f32; 3] {
        let within = |at: isize, size: usize| at.clamp(0, size as isize - 1) as usize;
        let at = 3 * (within(y, self.height) * self.width + within(x, self.width));
        [0, 1, 2].map(|channel| to_linear(self.bytes[at + channel]))
    }

    /// The light at a place between pixels; whole numbers and a half are the middles of pixels.
    pub fn between(&self, x: f64, y: f64) -> [f32; 3] {
        let (x, y) = (x - 0.5, y - 0.5);
        let (left, top) = (floor(x), floor(y));
        let (right, below) = ((x - left as f64) as f32, (y - top as f64) as f32);
        let [a, b, c, d] = self.four(left, top);
        let mut light = [0.0; 3];
        // Loops by hand here and in `four`: this is asked for tens of millions of times a picture.
        for at in 0..3 {
            let above = a[at] + (b[at] - a[at]) * right;
            let under = c[at] + (d[at] - c[at]) * right;
            light[at] = above + (under - above) * below;
        }
        light
    }

    /// A pixel, the one to its right, and those below both, in linear light.
    fn four(&self, left: isize, top: isize) -> [[f32; 3]; 4] {
        let inside = |at: isize, size: usize| at >= 0 && at + 1 < size as isize;
        if !inside(left, self.width) || !inside(top, self.height) {
            let pixel = |x: isize, y: isize| self.linear(left + x, top + y);
            return [pixel(0, 0), pixel(1, 0), pixel(0, 1), pixel(1, 1)];
        }
        let lights = linear_lights();
        let first = 3 * (top as usize * self.width + left as usize);
        let mut four = [[0.0; 3]; 4];
        for (row, pair) in four.chunks_exact_mut(2).enumerate() {
            let bytes = &self.bytes[first + 3 * row * self.width..][..6];
            for (light, byte) in pair.as_flattened_mut().iter_mut().zip(bytes) {
                *light = lights[usize::from(*byte)];
            }
        }
        four
    }

    /// A smaller copy, each of its pixels the mean light of `by` times `by`.
    pub fn shrunk(&self, by: usize) -> Vec<[f32; 3]> {
        let (width, height) = (self.width / by, self.height / by);
        let share = 1.0 / (by * by) as f32;
        let mut small = vec![[0.0f32; 3]; width * height];
        let lights = linear_lights();
        for y in 0..height * by {
            let row = &self.bytes[3 * y * self.width..][..3 * width * by];
            let into = &mut small[(y / by) * width..][..width];
            for (into, pixels) in into.iter_mut().zip(row.chunks_exact(3 * by)) {
                for pixel in pixels.chunks_exact(3) {
                    for (into, byte) in into.iter_mut().zip(pixel) {
                        *into += lights[usize::from(*byte)] * share;
                    }
                }
            }
        }
        small
    }
}

/// The whole number below: `f64::floor` is a call where the processor is not known to round.
fn floor(value: f64) -> isize {
    let cut = value as isize;
    cut - isize::from(value < cut as f64)
}

#[cfg(test)]
mod tests;
