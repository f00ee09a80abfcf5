//! The bevel along the edges of a front's face.

use super::{Edge, Edges, FittingTrouble, LENGTH, Places};
use crate::job::settings::{Keys, Section};
use crate::measure::{Length, Unit};

/// `[bevel]` of `job.toml`.
#[derive(Clone, Debug, PartialEq)]
pub struct BevelRule {
    /// Its size.
    pub size: BevelSize,
    /// Which edges have it.
    pub edges: Edges<bool>,
    /// An edge thinner than this is fragile.
    pub thin: Length,
    /// How far the saw's blade stands above its table at the most, upright.
    pub blade: Length,
    /// Where in `job.toml` these stand.
    pub places: Places,
}

/// A bevel's size: two of its three measures, which give the third.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BevelSize {
    /// How far it runs in on the face, and how much lower it leaves the edge.
    FaceDrop(Length, Length),
    /// How far it runs in on the face, and its angle to the face in degrees.
    FaceAngle(Length, f64),
    /// How much lower it leaves the edge, and its angle to the face in degrees.
    DropAngle(Length, f64),
}

/// An edge thinner than this is called thin unless `[bevel]` says otherwise: 3/16 in, or 5 mm.
pub fn thin_edge(unit: Unit) -> Length {
    Length::round_in(unit, 0.1875, 5.0)
}

/// A blade stands this high above the table unless `[bevel]` says otherwise: 3 1/8 in or 80 mm,
/// what a blade of 10 in usually reaches. Common practice, no source.
pub fn blade_reach(unit: Unit) -> Length {
    Length::round_in(unit, 3.125, 80.0)
}

impl BevelSize {
    /// The size two of the three measures give. All three must agree to a tenth of a degree.
    ///
    /// # Errors
    /// When fewer than two are given, or three contradict each other.
    pub(in crate::job) fn of(
        face: Option<Length>,
        drop: Option<Length>,
        angle: Option<f64>,
    ) -> Result<BevelSize, FittingTrouble> {
        match (face, drop, angle) {
            (Some(face), Some(drop), Some(angle)) => {
                let made = drop.mm().atan2(face.mm()).to_degrees();
                match (made - angle).abs() < 0.1 {
                    true => Ok(BevelSize::FaceDrop(face, drop)),
                    false => Err(FittingTrouble::BevelContradicts { angle: made }),
                }
            }
            (Some(face), Some(drop), None) => Ok(BevelSize::FaceDrop(face, drop)),
            (Some(face), None, Some(angle)) => Ok(BevelSize::FaceAngle(face, angle)),
            (None, Some(drop), Some(angle)) => Ok(BevelSize::DropAngle(drop, angle)),
            _ => Err(FittingTrouble::BevelNeedsTwo),
        }
    }
}

impl Section for Option<BevelRule> {
    const NAME: &'static str = "bevel";

    fn read(&mut self, keys: &mut Keys<'_>) {
        let (mut face, mut drop, mut angle) = (None, None, None);
        keys.value("face", LENGTH, &mut face, |cell| cell.size().map(Some));
        keys.value("drop", LENGTH, &mut drop, |cell| cell.size().map(Some));
        keys.value("angle", "a number of degrees", &mut angle, |cell| {
            cell.number(BEVEL_ANGLES).map(Some)
        });
        let mut thin = thin_edge(keys.unit());
        keys.length("thin", &mut thin);
        let mut blade = blade_reach(keys.unit());
        keys.size("blade", &mut blade);
        let edges = read_edges(keys);
        let written = ["face", "drop", "angle"].map(|key| keys.has(key));
        let read = [face.is_some(), drop.is_some(), angle.is_some()];
        if written != read {
            return;
        }
        match BevelSize::of(face, drop, angle) {
            Ok(size) => {
                let mut places = Places::default();
                for key in ["drop", "face", "angle"]
                    .into_iter()
                    .filter(|key| keys.has(key))
                {
                    places.keep(key, keys.place_of(key));
                }
                *self = Some(BevelRule {
                    size,
                    edges,
                    thin,
                    blade,
                    places,
                });
            }
            Err(trouble) => keys.fault_at("face", trouble),
        }
    }
}

/// Angles a bevel may have, in degrees to the face.
pub(in crate::job) const BEVEL_ANGLES: std::ops::RangeInclusive<f64> = 1.0..=89.0;

fn read_edges(keys: &mut Keys<'_>) -> Edges<bool> {
    let mut words = Vec::new();
    keys.words("edges", &mut words);
    if !keys.has("edges") {
        return Edges::all(true);
    }
    let mut edges = Edges::all(false);
    for word in words {
        match Edge::ALL
            .into_iter()
            .find(|e| e.word() == word.to_lowercase())
        {
            Some(edge) => *edges.at_mut(edge) = true,
            None => keys.fault_at("edges", FittingTrouble::NotAnEdge { word }),
        }
    }
    edges
}
