//! `[photo]`: measuring boards by their photographs.

use super::{Keys, Section};

/// Measuring boards by their photographs.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoSettings {
    /// Difference in CIE L* that counts as one step of tone.
    pub step: f64,
}

impl Section for PhotoSettings {
    const NAME: &'static str = "photo";

    fn read(&mut self, keys: &mut Keys<'_>) {
        // Below a tenth no picture tells boards apart; all of L* is a hundred.
        keys.number("step", 0.1..=100.0, &mut self.step);
    }
}

impl Default for PhotoSettings {
    fn default() -> PhotoSettings {
        PhotoSettings { step: 3.0 }
    }
}
