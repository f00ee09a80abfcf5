//! One picture's part of a face, straightened and evened.

use rayon::prelude::*;

use crate::photo::light::{Cover, Light, Missing, Paper, find_paper, in_rectangle};
use crate::photo::picture::Picture;
use crate::photo::plane::{Homography, Point, Strip, Window, straighten};

/// Most pixels an inch that a face is kept with.
const FINEST: f64 = 60.0;
/// Most pixels along a part of a face.
const LONGEST: f64 = 8000.0;

/// Where a part of a face lies in a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// The part, in inches.
    pub window: Window,
    /// Its corners in pixels: near edge at `from`, near edge at `to`, far edge at `to`, far edge at
    /// `from`.
    pub corners: [Point; 4],
    /// A rectangle of the picture that shows white paper.
    pub white: Option<[f64; 4]>,
}

/// A part of a face as a picture shows it.
#[derive(Clone, Debug)]
pub struct Sight {
    /// Straightened, and evened where paper tells the light.
    pub strip: Strip,
    /// What paper there is.
    pub missing: Missing,
    /// How far the paper keeps from the fitted light, as a part of it.
    pub spread: f64,
}

/// Looks at a part of a face; nothing when its corners are no rectangle's.
pub fn see(picture: &Picture, view: &View) -> Option<Sight> {
    let Window {
        from,
        to,
        low,
        high,
    } = view.window;
    let board = [(from, low), (to, low), (to, high), (from, high)];
    let to_picture = Homography::between(board.map(|(x, y)| Point::new(x, y)), view.corners)?;
    let paper = paper_of(picture, view, &to_picture);
    let light = Light::fit(&paper, view.window);
    let missing = match light {
        None => Missing::All,
        Some(_) => Cover::of(&paper, view.window).missing(),
    };
    let mut strip = straighten(picture, &to_picture, view.window, scale_of(view));
    if let Some(light) = &light {
        even(&mut strip, light);
    }
    Some(Sight {
        strip,
        missing,
        spread: light.map_or(0.0, |light| light.spread),
    })
}

fn paper_of(picture: &Picture, view: &View, to_picture: &Homography) -> Vec<Paper> {
    match view.white {
        Some(corners) => in_rectangle(picture, &to_picture.back(), corners),
        None => find_paper(picture, to_picture, view.window),
    }
}

/// Pixels an inch: as many as the picture has along the part.
fn scale_of(view: &View) -> f64 {
    let [a, b, c, d] = view.corners;
    let long = (a.distance(b) + d.distance(c)) / 2.0;
    let own = long / view.window.length();
    own.min(FINEST).min(LONGEST / view.window.length())
}

fn even(strip: &mut Strip, light: &Light) {
    let frame = Strip {
        light: Vec::new(),
        ..*strip
    };
    let rows = strip.light.par_chunks_mut(strip.width).enumerate();
    rows.for_each(|(row, pixels)| {
        for (column, pixel) in pixels.iter_mut().enumerate() {
            let place = Point::new(frame.along(column), frame.across(row));
            *pixel = light.evened(*pixel, place);
        }
    });
}
