//! From a picture to a board's face as if seen from straight above.
//!
//! Light is averaged over the whole of each pixel's area, and as light, not as the bytes that stand
//! for it: fine grain neither shimmers nor darkens when it is made smaller.

use rayon::prelude::*;

use super::{Homography, Point, Strip, Window};
use crate::photo::picture::Picture;

/// Most samples along each side of a pixel.
const MOST_SAMPLES: f64 = 24.0;

/// Looks at a part of a board's plane; `to_picture` leads from inches on the board to pixels.
pub fn straighten(picture: &Picture, to_picture: &Homography, window: Window, scale: f64) -> Strip {
    let mut strip = Strip::black(window, scale);
    let (width, frame) = (strip.width, strip.clone_frame());
    strip
        .light
        .par_chunks_mut(width)
        .enumerate()
        .for_each(|(row, pixels)| {
            for (column, pixel) in pixels.iter_mut().enumerate() {
                let middle = Point::new(frame.along(column), frame.across(row));
                *pixel = mean(picture, to_picture, middle, scale);
            }
        });
    strip
}

impl Strip {
    /// The same measures without the light.
    fn clone_frame(&self) -> Strip {
        Strip {
            light: Vec::new(),
            ..*self
        }
    }
}

/// The mean light of one straightened pixel.
fn mean(picture: &Picture, to_picture: &Homography, middle: Point, scale: f64) -> [f32; 3] {
    let (along, across) = to_picture.stretch(middle);
    let samples = |stretch: f64| (stretch / scale).ceil().clamp(1.0, MOST_SAMPLES) as usize;
    let (columns, rows) = (samples(along), samples(across));
    let offset = |at: usize, of: usize| ((at as f64 + 0.5) / of as f64 - 0.5) / scale;
    let mut sum = [0.0f32; 3];
    for row in 0..rows {
        for column in 0..columns {
            let place = to_picture.at(Point::new(
                middle.x + offset(column, columns),
                middle.y + offset(row, rows),
            ));
            let light = picture.between(place.x, place.y);
            sum = [0, 1, 2].map(|c| sum[c] + light[c]);
        }
    }
    sum.map(|c| c / (columns * rows) as f32)
}
