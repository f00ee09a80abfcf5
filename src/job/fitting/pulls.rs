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
    /// The defaults of a job in a unit: round numbers of it.
    pub(super) fn in_unit(unit: Unit) -> PullRule {
        let mm = Length::from_mm;
        match unit {
            Unit::Inch => PullRule::default(),
            Unit::Mm => PullRule {
                two_from: Some(mm(600.0)),
                hole: mm(5.0),
                clear: mm(6.0),
                ..PullRule::default()
            },
        }
    }
}

impl Default for PullRule {
    fn default() -> PullRule {
        PullRule {
            two_from: Some(Length::from_inches(24.0)),
            end_share: 0.25,
            level: Level::Share(0.5),
            spacing: None,
            hole: Length::from_inches(0.1875),
            clear: Length::from_inches(0.25),
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
        let mut rule = PullRule::in_unit(keys.ruler().unit);
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
