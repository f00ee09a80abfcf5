//! `[worth]`: what looks are worth to this maker.

use super::{Keys, Section};
use crate::measure::Unit;

/// What looks are worth to this maker, in board feet of lumber, or in litres in a metric job.
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    /// Avoiding one break.
    pub unbroken: f64,
    /// One tone step inside a run.
    pub tone_run: f64,
    /// One tone step over the whole piece.
    pub tone_case: f64,
    /// Avoiding one glue line in one front.
    pub glue_line: f64,
    /// One more log inside a run.
    pub mixed_log: f64,
    /// One more way of sawing inside a run.
    pub mixed_cut: f64,
    /// What a board foot (a litre) already owned counts, in money, when planning by money. Written
    /// as prices are: per `[money] per`.
    pub owned: f64,
    /// Leaving one front where it is chalked when a job is recut.
    pub moved: f64,
}

/// No look is worth a million board feet or litres; beyond that a number is a slip, and the search
/// would lose its precision.
const WORTH: std::ops::RangeInclusive<f64> = 0.0..=1e6;

impl Section for Worth {
    const NAME: &'static str = "worth";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.number("unbroken", WORTH, &mut self.unbroken);
        keys.number("tone_run", WORTH, &mut self.tone_run);
        keys.number("tone_case", WORTH, &mut self.tone_case);
        keys.number("glue_line", WORTH, &mut self.glue_line);
        keys.number("mixed_log", WORTH, &mut self.mixed_log);
        keys.number("mixed_cut", WORTH, &mut self.mixed_cut);
        keys.number("owned", WORTH, &mut self.owned);
        keys.number("moved", WORTH, &mut self.moved);
    }
}

impl Worth {
    /// Round numbers of the volumes a job in `unit` counts: 4 board feet, or 10 litres.
    pub fn of(unit: Unit) -> Worth {
        let worth = |feet, litres| match unit {
            Unit::Inch => feet,
            Unit::Mm => litres,
        };
        Worth {
            unbroken: worth(4.0, 10.0),
            tone_run: worth(1.0, 2.5),
            tone_case: worth(0.5, 1.25),
            glue_line: worth(2.0, 5.0),
            mixed_log: worth(0.5, 1.25),
            mixed_cut: worth(1.0, 2.5),
            owned: 0.0,
            moved: worth(0.5, 1.25),
        }
    }
}

impl Default for Worth {
    fn default() -> Worth {
        Worth::of(Unit::Inch)
    }
}
