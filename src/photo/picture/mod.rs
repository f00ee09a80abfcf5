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

use super::colour::to_linear;

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
        let (left, top) = (x.floor(), y.floor());
        let (right, below) = ((x - left) as f32, (y - top) as f32);
        let (left, top) = (left as isize, top as isize);
        let [a, b] = [top, top + 1].map(|row| {
            let (first, second) = (self.linear(left, row), self.linear(left + 1, row));
            [0, 1, 2].map(|c| first[c] + (second[c] - first[c]) * right)
        });
        [0, 1, 2].map(|c| a[c] + (b[c] - a[c]) * below)
    }

    /// A smaller copy, each of its pixels the mean light of `by` times `by`.
    pub fn shrunk(&self, by: usize) -> Vec<[f32; 3]> {
        let (width, height) = (self.width / by, self.height / by);
        let share = 1.0 / (by * by) as f32;
        let mut small = vec![[0.0f32; 3]; width * height];
        for y in 0..height * by {
            for x in 0..width * by {
                let light = self.linear(x as isize, y as isize);
                let into = &mut small[(y / by) * width + x / by];
                for c in 0..3 {
                    into[c] += light[c] * share;
                }
            }
        }
        small
    }
}

#[cfg(test)]
mod tests;
