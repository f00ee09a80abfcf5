//! `[glue]`: gluing fronts up from staves.

use super::{Keys, Section};
use crate::measure::{Length, Unit};

/// Gluing fronts up from staves.
#[derive(Clone, Debug, PartialEq)]
pub struct Glue {
    /// Whether fronts may be glued unless their row says otherwise.
    pub allow: bool,
    /// Narrowest stave.
    pub least_stave: Length,
    /// Extra width for each glued joint.
    pub joint: Length,
}

impl Section for Glue {
    const NAME: &'static str = "glue";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.yes_no("allow", &mut self.allow);
        keys.size("least_stave", &mut self.least_stave);
        keys.length("joint", &mut self.joint);
    }
}

impl Glue {
    /// What a maker who measures in `unit` would start from.
    pub fn of(unit: Unit) -> Glue {
        Glue {
            allow: true,
            least_stave: Length::round_in(unit, 2.0, 50.0),
            joint: Length::round_in(unit, 0.125, 3.0),
        }
    }
}

impl Default for Glue {
    fn default() -> Glue {
        Glue::of(Unit::Inch)
    }
}
