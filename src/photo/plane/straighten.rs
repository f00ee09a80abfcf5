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
            let middle = |column| Point::new(frame.along(column), frame.across(row));
            let samples = Samples::of(to_picture, [middle(0), middle(width - 1)], scale);
            for (column, pixel) in pixels.iter_mut().enumerate() {
                *pixel = samples.mean(picture, to_picture, middle(column));
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

/// Where the pixels of a row are sampled, in inches from their middles.
struct Samples {
    along: Vec<f64>,
    across: Vec<f64>,
}

impl Samples {
    /// As many as the picture has pixels there, at the end of the row where it has more: towards one end or the
    /// other of a line a mapping between planes only stretches or only shrinks.
    fn of(to_picture: &Homography, ends: [Point; 2], scale: f64) -> Samples {
        let [(a, b), (c, d)] = ends.map(|end| to_picture.stretch(end));
        let offsets = |stretch: f64| {
            let many = (stretch / scale).ceil().clamp(1.0, MOST_SAMPLES) as usize;
            let offset = |at: usize| ((at as f64 + 0.5) / many as f64 - 0.5) / scale;
            (0..many).map(offset).collect()
        };
        Samples {
            along: offsets(a.max(c)),
            across: offsets(b.max(d)),
        }
    }

    /// The mean light of one straightened pixel.
    fn mean(&self, picture: &Picture, to_picture: &Homography, middle: Point) -> [f32; 3] {
        let mut sum = [0.0f32; 3];
        for across in &self.across {
            for along in &self.along {
                let place = to_picture.at(Point::new(middle.x + along, middle.y + across));
                let light = picture.between(place.x, place.y);
                sum.iter_mut()
                    .zip(light)
                    .for_each(|(sum, light)| *sum += light);
            }
        }
        sum.map(|c| c / (self.along.len() * self.across.len()) as f32)
    }
}
