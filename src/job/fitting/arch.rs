//! An arch that several fronts share.

use super::{FittingTrouble, Places};
use crate::job::settings::{Keys, Section};
use crate::measure::Length;

/// `[[arch]]` of `job.toml`: one curve that runs over the tops of several fronts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SharedArch {
    /// Its name.
    pub name: String,
    /// The names of the fronts under it, from left to right.
    pub fronts: Vec<String>,
    /// Straight across from where it springs to where it lands.
    pub chord: Length,
    /// How far its crest stands above that line.
    pub rise: Length,
    /// Where in `job.toml` these stand.
    pub places: Places,
}

impl Section for SharedArch {
    const NAME: &'static str = "arch";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.text("name", &mut self.name);
        keys.words("fronts", &mut self.fronts);
        keys.size("chord", &mut self.chord);
        keys.size("rise", &mut self.rise);
        for key in ["fronts", "chord", "rise"] {
            self.places.keep(key, keys.place_of(key));
            if !keys.has(key) {
                keys.fault_at(key, FittingTrouble::Missing { key });
            }
        }
        if self.fronts.is_empty() && keys.has("fronts") {
            keys.fault_at("fronts", FittingTrouble::ArchWithoutFronts);
        }
        let both = self.chord > Length::ZERO && self.rise > Length::ZERO;
        if both && self.rise * 2 > self.chord {
            keys.fault_at("rise", FittingTrouble::ArchTooHigh);
        }
    }
}
