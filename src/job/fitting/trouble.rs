//! What can be wrong with what a maker says about fitting.

use crate::job::fault::Trouble;
use crate::wood::{Moisture, NotFound};

/// What can be wrong in the fitting sections of `job.toml`.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FittingTrouble {
    /// Not a temperature.
    #[error("it can't be read as a temperature")]
    NotATemperature,
    /// A temperature no shop or house has.
    #[error("no shop or house has {fahrenheit:.0} °F ({celsius:.0} °C)")]
    NoSuchWeather {
        /// As read.
        fahrenheit: f64,
        /// As read.
        celsius: f64,
    },
    /// A temperature without a humidity, or the other way round.
    #[error("`{key}` is missing")]
    Missing {
        /// The missing key.
        key: &'static str,
    },
    /// Neither the shop's air nor a measured moisture.
    #[error("nothing says how moist the wood is today")]
    NoToday,
    /// Both the shop's air and a measured moisture.
    #[error("the wood's moisture is given twice")]
    TodayTwice,
    /// The season called driest leaves wood moister than the one called wettest.
    #[error("wood comes to {dry} in the driest air and to {wet} in the wettest")]
    SeasonsSwapped {
        /// Moisture in the driest season.
        dry: Moisture,
        /// Moisture in the wettest season.
        wet: Moisture,
    },
    /// A species the wood table does not know.
    #[error("the wood table knows no such species")]
    UnknownSpecies {
        /// The nearest names.
        nearest: Vec<&'static str>,
    },
    /// A name that several species bear.
    #[error("that is the name of several species")]
    SeveralSpecies {
        /// Which they are.
        which: Vec<&'static str>,
    },
    /// Not two of a bevel's three measures.
    #[error("a bevel needs two of its three measures")]
    BevelNeedsTwo,
    /// Three measures of a bevel that contradict each other.
    #[error(
        "the three measures of the bevel contradict each other: face and drop make {angle:.1} degrees"
    )]
    BevelContradicts {
        /// The angle that goes with face and drop.
        angle: f64,
    },
    /// Not one of the four edges.
    #[error("there is no edge `{word}`")]
    NotAnEdge {
        /// What is written.
        word: String,
    },
    /// A pull's height by two rules.
    #[error("the pulls' height is given twice")]
    PullHeightTwice,
    /// More than a half circle.
    #[error("an arch can't rise more than half its chord")]
    ArchTooHigh,
    /// An arch over nothing.
    #[error("the arch has no fronts under it")]
    ArchWithoutFronts,
    /// The least gap is above the most.
    #[error("the least gap is wider than the most")]
    LeastAboveMost,
}

impl FittingTrouble {
    pub(super) fn no_such_weather(degrees: f64, in_fahrenheit: bool) -> FittingTrouble {
        let (fahrenheit, celsius) = match in_fahrenheit {
            true => (degrees, (degrees - 32.0) / 1.8),
            false => (degrees * 1.8 + 32.0, degrees),
        };
        FittingTrouble::NoSuchWeather {
            fahrenheit,
            celsius,
        }
    }

    /// Why a species' name is not one species.
    pub(in crate::job) fn species(why: NotFound) -> FittingTrouble {
        match why {
            NotFound::Several(which) => FittingTrouble::SeveralSpecies { which },
            NotFound::None(nearest) => FittingTrouble::UnknownSpecies { nearest },
        }
    }
}

impl Trouble for FittingTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            FittingTrouble::NotATemperature => "a temperature such as \"68 F\" or \"20 C\"".into(),
            FittingTrouble::NoSuchWeather { .. } => "-20 to 60 °C, or -4 to 140 °F".into(),
            FittingTrouble::Missing { key } => format!("`{key}` beside it"),
            FittingTrouble::NoToday => {
                "`moisture`, or `shop_temperature` and `shop_humidity`".into()
            }
            FittingTrouble::NotAnEdge { .. } => "left, right, top or bottom".into(),
            FittingTrouble::PullHeightTwice => "`height` or `height_share`, not both".into(),
            FittingTrouble::TodayTwice => "`moisture`, or the shop's air, not both".into(),
            FittingTrouble::SeasonsSwapped { .. } => "air that dries wood more".into(),
            FittingTrouble::BevelNeedsTwo => "two of face, drop and angle".into(),
            FittingTrouble::ArchTooHigh => "at most half of `chord`".into(),
            FittingTrouble::ArchWithoutFronts => "`fronts = [\"D1\", \"D2\"]`".into(),
            FittingTrouble::LeastAboveMost => "a gap no wider than `most`".into(),
            _ => return None,
        })
    }

    fn hint(&self) -> Option<String> {
        Some(match self {
            FittingTrouble::NoSuchWeather { .. } => {
                "a bare number is in °F in a job in inches and in °C in one in mm: write the F or \
                 the C after it"
                    .into()
            }
            FittingTrouble::SeasonsSwapped { .. } => {
                "humidity decides more than temperature: heated winter air is the driest".into()
            }
            FittingTrouble::UnknownSpecies { nearest } if !nearest.is_empty() => {
                format!("did you mean {}?", listed(nearest))
            }
            FittingTrouble::UnknownSpecies { .. } => {
                "the `woods` command lists all species; leave it empty to do without".into()
            }
            FittingTrouble::SeveralSpecies { which } => format!("write one of {}", listed(which)),
            FittingTrouble::BevelContradicts { .. } => "leave one of the three out".into(),
            _ => return None,
        })
    }
}

fn listed(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    quoted.join(", ")
}
