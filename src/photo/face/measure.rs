//! What a whole face tells.

use super::Sight;
use crate::photo::defects::{Proposal, propose};
use crate::photo::grain::{Slope, slopes};
use crate::photo::join::join;
use crate::photo::light::Missing;
use crate::photo::plane::{Strip, Window};
use crate::photo::tone::{Colour, colour_of};

/// What photographs of different light, or by a phone's tone curve of another moment, add to the
/// uncertainty, in L*.
const BETWEEN: f64 = 1.6;
/// What a part of the light is worth in L* on wood: the slope of L* at half the light.
const A_PART: f64 = 30.0;

/// What was measured of one face.
#[derive(Clone, Debug, serde::Serialize, serde::Deserialize)]
pub struct Measured {
    /// The face from straight above, in even light where paper told it.
    pub face: Strip,
    /// Its colour, whole and along.
    pub colour: Colour,
    /// Its grain.
    pub slopes: Vec<Slope>,
    /// What seems to be wrong with it.
    pub proposals: Vec<Proposal>,
    /// How sure its parts are joined; 1 for a single one.
    pub joined: f64,
    /// What paper there is not.
    pub missing: Missing,
    /// How far its L* may be off against boards of the same picture, 19 times of 20.
    pub within: f64,
}

impl Measured {
    /// How far its L* may be off against boards of other pictures, 19 times of 20.
    pub fn between(&self) -> f64 {
        self.within.hypot(BETWEEN)
    }
}

/// Measures a face from its parts, in regions `every` inches long; nothing without parts.
pub fn measure(mut sights: Vec<Sight>, whole: Window, every: f64) -> Option<Measured> {
    sights.sort_by(|a, b| a.strip.window.from.total_cmp(&b.strip.window.from));
    let worst = |a: &Sight, b: &Sight| a.missing.uncertain().total_cmp(&b.missing.uncertain());
    let missing = sights.iter().max_by(|a, b| worst(a, b))?.missing;
    let within = sights.iter().map(uncertain).reduce(f64::max)?;
    let strips: Vec<Strip> = sights.into_iter().map(|sight| sight.strip).collect();
    let (face, joined) = match strips.as_slice() {
        [one] if one.window == whole => (strips.into_iter().next()?, 1.0),
        parts => {
            let joined = join(parts, whole);
            (joined.strip, joined.confidence)
        }
    };
    let proposals = propose(&face);
    let rectangles: Vec<[f64; 4]> = proposals.iter().map(|proposal| proposal.edges).collect();
    Some(Measured {
        colour: colour_of(&face, &rectangles, every),
        slopes: slopes(&face, every),
        proposals,
        joined,
        missing,
        within,
        face,
    })
}

/// What the paper leaves open, and how uneven the light is on it.
fn uncertain(sight: &Sight) -> f64 {
    // Paper itself is never quite even: that much is in the measured figures already.
    const EVEN: f64 = 0.02;
    sight
        .missing
        .uncertain()
        .hypot(A_PART * (sight.spread - EVEN).max(0.0))
}
