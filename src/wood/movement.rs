//! How much wider a board gets for each per cent of moisture it takes up.

use super::{Moisture, Species};
use crate::measure::Length;

/// How a board was sawn from the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Cut {
    /// Growth rings roughly along the face: cathedral figure.
    Flat,
    /// In between.
    Rift,
    /// Growth rings roughly square to the face: straight figure.
    Quarter,
}

impl Cut {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Cut::Flat => "flat",
            Cut::Rift => "rift",
            Cut::Quarter => "quarter",
        }
    }
}

/// Change in width for each unit of width and each per cent of moisture content.
///
/// Flat sawn wood moves by the tangential coefficient, quarter sawn by the radial one (Wood
/// Handbook, FPL-GTR-190, chapter 13, Table 13-5). With the rings at an angle `a` to the face
/// the two mix as `cos² a` and `sin² a`; rift sawn wood is taken at 45 degrees, which is their
/// mean.
pub fn change_per_percent(species: &Species, cut: Cut) -> f64 {
    match cut {
        Cut::Flat => species.tangential,
        Cut::Quarter => species.radial,
        Cut::Rift => (species.radial + species.tangential) / 2.0,
    }
}

/// How much wider (narrower when negative) a piece `width` wide across the grain gets between
/// two moisture contents.
///
/// Source: Wood Handbook, FPL-GTR-190 (2010), chapter 13, Equation 13-2:
/// `change = width x coefficient x (final - initial moisture)`.
pub fn growth(width: Length, per_percent: f64, from: Moisture, to: Moisture) -> Length {
    let change = width.nm() as f64 * per_percent * (to.value() - from.value());
    Length::from_nm(change.round() as i64)
}
