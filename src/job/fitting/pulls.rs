//! Where pulls go.

use super::{FittingTrouble, LENGTH, Places};
use crate::job::settings::{Keys, Section};
use crate::measure::{Length, Unit};

/// `[pulls]` of `job.toml`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullRule {
    /// Fronts at least this wide get two pulls; `None` gives every front one.
    pub two_from: Option<Length>,
    /// Where the outer pulls of a pair stand: this share of the width from either end.
    pub end_share: f64,
    /// How high they stand.
    pub level: Level,
    /// Between the two holes of one pull; `None` for a knob with one hole.
    pub spacing: Option<Length>,
    /// Diameter of a hole.
    pub hole: Length,
    /// Least wood between a hole and an edge or a bevel.
    pub clear: Length,
}

/// How high pulls stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Level {
    /// A share of the front's height, from the bottom; of the crest's when it is arched.
    Share(f64),
    /// This far above the bottom edge.
    Above(Length),
}

impl PullRule {
    /// What a maker who measures in `unit` would start from.
    pub fn of(unit: Unit) -> PullRule {
        PullRule {
            two_from: Some(Length::round_in(unit, 24.0, 600.0)),
            end_share: 0.25,
            level: Level::Share(0.5),
            spacing: None,
            hole: Length::round_in(unit, 0.1875, 5.0),
            clear: Length::round_in(unit, 0.25, 6.0),
        }
    }
}

/// The rule as it is read, and where its keys stand.
#[derive(Debug, Default)]
pub(super) struct Pulls {
    pub rule: Option<PullRule>,
    pub places: Places,
}

impl Section for Pulls {
    const NAME: &'static str = "pulls";

    fn read(&mut self, keys: &mut Keys<'_>) {
        let mut rule = PullRule::of(keys.unit());
        keys.size_or_none("two_from", &mut rule.two_from);
        keys.number("end_share", 0.05..=0.45, &mut rule.end_share);
        let (mut share, mut above) = (None, None);
        keys.value("height_share", "a number", &mut share, |cell| {
            cell.number(0.05..=0.95).map(Some)
        });
        keys.value("height", LENGTH, &mut above, |cell| cell.size().map(Some));
        if keys.has("height_share") && keys.has("height") {
            keys.fault_at("height", FittingTrouble::PullHeightTwice);
        }
        rule.level = match (above, share) {
            (Some(height), _) => Level::Above(height),
            (None, Some(share)) => Level::Share(share),
            (None, None) => rule.level,
        };
        keys.size_or_none("spacing", &mut rule.spacing);
        keys.size("hole", &mut rule.hole);
        keys.length("clear", &mut rule.clear);
        self.places.keep("pulls", keys.place_of("pulls"));
        if keys.has("end_share") {
            self.places.keep("end_share", keys.place_of("end_share"));
        }
        self.rule = Some(rule);
    }
}
