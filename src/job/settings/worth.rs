//! `[worth]`: what looks are worth to this maker.

use super::{Keys, Section};

/// What looks are worth to this maker, in board feet of lumber.
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
    /// What a board foot already owned counts, in money, when planning by money.
    pub owned: f64,
    /// Leaving one front where it is chalked when a job is recut.
    pub moved: f64,
}

/// No look is worth a million board feet; beyond that a number is a slip, and the search
/// would lose its precision.
const WORTH: std::ops::RangeInclusive<f64> = 0.0..=1e6;

impl Section for Worth {
    const NAME: &'static str = "worth";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.number("unbroken", WORTH, &mut self.unbroken);
        keys.number("tone_run", WORTH, &mut self.tone_run);
        keys.number("tone_case", WORTH, &mut self.tone_case);
        keys.number("glue_line", WORTH, &mut self.glue_line);
        keys.number("owned", WORTH, &mut self.owned);
        keys.number("moved", WORTH, &mut self.moved);
    }
}

impl Default for Worth {
    fn default() -> Worth {
        Worth {
            unbroken: 4.0,
            tone_run: 1.0,
            tone_case: 0.5,
            glue_line: 2.0,
            owned: 0.0,
            moved: 0.5,
        }
    }
}
