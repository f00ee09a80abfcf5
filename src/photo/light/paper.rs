//! White paper in a picture.

use crate::photo::picture::Picture;
use crate::photo::plane::{Homography, Point, Strip, Window, luminance, straighten};

/// How far beyond the board's edges paper is looked for, in inches.
const REACH: f64 = 4.0;
/// Kept from the board's edges, in inches: there its thickness and its shadow show.
const CLEAR: f64 = 0.3;
/// Pixels an inch at which it is looked for.
const SCALE: f64 = 6.0;
/// Paper is this many times as bright as the wood beside it at least.
const OVER_WOOD: f32 = 1.15;
/// How far paper's channels are from those of the whitest paper there.
const TINT: f32 = 0.16;
/// How even paper is from one pixel to the next.
const EVEN: f32 = 0.06;

/// A bit of white paper: where it lies in the first board's plane, and its light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// Inches on the board's plane.
    pub place: Point,
    /// Its light as the camera saw it.
    pub light: [f32; 3],
}

/// Paper around a board, found as what is bright, even and of one tint. Other boards in the same
/// picture may lie there as well: they are neither.
pub fn find_paper(picture: &Picture, to_picture: &Homography, board: Window) -> Vec<Paper> {
    let window = Window {
        from: board.from - REACH,
        to: board.to + REACH,
        low: board.low - REACH,
        high: board.high + REACH,
    };
    let view = straighten(picture, to_picture, window, SCALE);
    let seen = |at: usize| {
        let place = Point::new(view.along(at % view.width), view.across(at / view.width));
        let pixel = to_picture.at(place);
        let inside = pixel.x > 2.0
            && pixel.y > 2.0
            && pixel.x < picture.width as f64 - 2.0
            && pixel.y < picture.height as f64 - 2.0;
        inside.then_some(place)
    };
    let off = |place: Point, clear: f64| {
        place.x < board.from - clear
            || place.x > board.to + clear
            || place.y < board.low - clear
            || place.y > board.high + clear
    };
    let wood = Wood::of(&view, board);
    let bright: Vec<usize> = (0..view.light.len())
        .filter(|&at| seen(at).is_some_and(|place| off(place, CLEAR)))
        .filter(|&at| {
            let place = seen(at).unwrap_or_default();
            luminance(view.light[at]) > OVER_WOOD * wood.beside(place, board)
        })
        .filter(|&at| is_even(&view.light, view.width, at))
        .collect();
    let tint = whitest(bright.iter().map(|&at| view.light[at]));
    bright
        .into_iter()
        .filter(|&at| is_of_tint(view.light[at], tint))
        .filter_map(|at| {
            Some(Paper {
                place: seen(at)?,
                light: view.light[at],
            })
        })
        .collect()
}

/// All of a rectangle of the picture, said to be paper.
pub fn in_rectangle(picture: &Picture, to_board: &Homography, corners: [f64; 4]) -> Vec<Paper> {
    const SIDE: usize = 12;
    let [x0, y0, x1, y1] = corners;
    let part = |at: usize| (at as f64 + 0.5) / SIDE as f64;
    (0..SIDE * SIDE)
        .map(|at| {
            let x = x0 + (x1 - x0) * part(at % SIDE);
            let y = y0 + (y1 - y0) * part(at / SIDE);
            Paper {
                place: to_board.at(Point::new(x, y)),
                light: picture.between(x, y),
            }
        })
        .collect()
}

/// How bright the wood is, part by part: light may fall off so far that paper at one end is darker
/// than wood at the other.
struct Wood([f32; PARTS * PARTS]);

/// Parts of a board along and across.
const PARTS: usize = 3;

impl Wood {
    /// The luminance that few pixels of each part exceed.
    fn of(view: &Strip, board: Window) -> Wood {
        let mut parts: Vec<Vec<f32>> = vec![Vec::new(); PARTS * PARTS];
        for (at, light) in view.light.iter().enumerate() {
            let place = Point::new(view.along(at % view.width), view.across(at / view.width));
            let inside = place.x > board.from + CLEAR
                && place.x < board.to - CLEAR
                && place.y > board.low + CLEAR
                && place.y < board.high - CLEAR;
            if inside {
                parts[part_of(place, board)].push(luminance(*light));
            }
        }
        Wood(std::array::from_fn(|at| {
            let part = &mut parts[at];
            part.sort_by(f32::total_cmp);
            part.get(part.len() * 4 / 5).copied().unwrap_or(0.0)
        }))
    }

    /// That of the part nearest to a place beside the board.
    fn beside(&self, place: Point, board: Window) -> f32 {
        self.0[part_of(place, board)]
    }
}

/// The part of a board that is nearest to a place.
fn part_of(place: Point, board: Window) -> usize {
    let part = |at: f64, from: f64, long: f64| {
        ((at - from) / long * PARTS as f64).clamp(0.0, PARTS as f64 - 0.5) as usize
    };
    part(place.y, board.low, board.width()) * PARTS + part(place.x, board.from, board.length())
}

fn is_even(light: &[[f32; 3]], width: usize, at: usize) -> bool {
    let here = luminance(light[at]);
    let near = [
        at.wrapping_sub(1),
        at + 1,
        at.wrapping_sub(width),
        at + width,
    ];
    near.iter().all(|&other| {
        let other = light.get(other).map(|&light| luminance(light));
        other.is_some_and(|other| (other - here).abs() < EVEN * here)
    })
}

/// The ratios red to green and blue to green of the brighter half.
fn whitest(light: impl Iterator<Item = [f32; 3]>) -> [f32; 2] {
    let mut light: Vec<[f32; 3]> = light.collect();
    light.sort_by(|a, b| luminance(*b).total_cmp(&luminance(*a)));
    light.truncate(light.len().div_ceil(2));
    [0, 2].map(|channel| {
        let mut ratios: Vec<f32> = light.iter().map(|l| l[channel] / l[1].max(1e-4)).collect();
        ratios.sort_by(f32::total_cmp);
        ratios.get(ratios.len() / 2).copied().unwrap_or(1.0)
    })
}

fn is_of_tint(light: [f32; 3], tint: [f32; 2]) -> bool {
    let green = light[1].max(1e-4);
    let off = |channel: usize, told: f32| (light[channel] / green / told - 1.0).abs();
    off(0, tint[0]) < TINT && off(2, tint[1]) < TINT
}
