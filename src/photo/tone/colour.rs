//! The colour of sound wood.

use crate::photo::colour::Lab;
use crate::photo::plane::{Strip, luminance};

/// Pixels an inch at which colour is taken: finer is texture.
const SCALE: f64 = 12.0;
/// Kept from the edges and ends, in inches: there lie shadows and saw marks.
const RIM: f64 = 0.2;
/// Evened wood as bright as this is glare.
const GLARE: f32 = 0.8;

/// The colour of a board.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Colour {
    /// Median of all sound wood.
    pub lab: Lab,
    /// The same part by part.
    pub along: Vec<Along>,
    /// Part of the face that is glare.
    pub glare: f64,
}

/// The colour of a part of a board's length.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Along {
    /// Start, in inches.
    pub from: f64,
    /// End, in inches.
    pub to: f64,
    /// Median of its sound wood.
    pub lab: Lab,
}

/// The colour of an evened face without the rectangles of its defects, whole and each `every` inches.
pub fn colour_of(face: &Strip, defects: &[[f64; 4]], every: f64) -> Colour {
    let small = face.shrunk((face.scale / SCALE).round().max(1.0) as usize);
    let mut glare = 0usize;
    let mut sound: Vec<(f64, Lab)> = Vec::new();
    for at in 0..small.light.len() {
        let place = (
            small.along(at % small.width),
            small.across(at / small.width),
        );
        if is_rim(&small, place) || defects.iter().any(|edges| holds(edges, place)) {
            continue;
        }
        match luminance(small.light[at]) > GLARE {
            true => glare += 1,
            false => sound.push((place.0, Lab::of_linear(small.light[at]))),
        }
    }
    let parts = (face.window.length() / every).ceil().max(1.0) as usize;
    let along = (0..parts).filter_map(|part| {
        let from = face.window.from + part as f64 * every;
        let to = (from + every).min(face.window.to);
        let here = sound.iter().filter(|(at, _)| (from..to).contains(at));
        let lab = median(here.map(|(_, lab)| *lab))?;
        Some(Along { from, to, lab })
    });
    Colour {
        along: along.collect(),
        glare: glare as f64 / (glare + sound.len()).max(1) as f64,
        lab: median(sound.iter().map(|(_, lab)| *lab)).unwrap_or_default(),
    }
}

fn is_rim(face: &Strip, (along, across): (f64, f64)) -> bool {
    let window = face.window;
    // A board narrower than its rims is all rim: then half of it counts.
    let across_rim = RIM.min(window.width() / 4.0);
    let along_rim = RIM.min(window.length() / 4.0);
    along < window.from + along_rim
        || along > window.to - along_rim
        || across < window.low + across_rim
        || across > window.high - across_rim
}

fn holds([from, to, low, high]: &[f64; 4], (along, across): (f64, f64)) -> bool {
    (*from..*to).contains(&along) && (*low..*high).contains(&across)
}

/// The median of each part.
fn median(colours: impl Iterator<Item = Lab>) -> Option<Lab> {
    let colours: Vec<Lab> = colours.collect();
    let middle = |part: fn(&Lab) -> f64| {
        let mut values: Vec<f64> = colours.iter().map(part).collect();
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied()
    };
    Some(Lab {
        l: middle(|lab| lab.l)?,
        a: middle(|lab| lab.a)?,
        b: middle(|lab| lab.b)?,
    })
}
