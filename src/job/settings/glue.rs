//! `[glue]`: gluing fronts up from staves.

use super::{Keys, Section};
use crate::measure::{Length, Unit};

/// Gluing fronts up from staves.
#[derive(Clone, Debug, PartialEq)]
pub struct Glue {
    /// Whether fronts may be glued unless their row says otherwise.
    pub allow: bool,
    /// Narrower fronts, across the grain, are glued only where their own row says so.
    pub from: Length,
    /// Narrowest stave.
    pub least_stave: Length,
    /// Staves are ripped to whole multiples of this.
    pub step: Length,
    /// Extra width for each glued joint.
    pub joint: Length,
}

impl Section for Glue {
    const NAME: &'static str = "glue";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.yes_no("allow", &mut self.allow);
        keys.length("from", &mut self.from);
        keys.size("least_stave", &mut self.least_stave);
        keys.size("step", &mut self.step);
        keys.length("joint", &mut self.joint);
    }
}

impl Glue {
    /// What a maker who measures in `unit` would start from.
    pub fn of(unit: Unit) -> Glue {
        Glue {
            allow: true,
            from: Length::round_in(unit, 8.0, 200.0),
            least_stave: Length::round_in(unit, 2.0, 50.0),
            step: Length::round_in(unit, 0.125, 2.0),
            joint: Length::round_in(unit, 0.125, 3.0),
        }
    }

    /// Whether a front so wide across the grain may be glued; `own` is what its row says.
    pub fn allows(&self, own: Option<bool>, across: Length) -> bool {
        own.unwrap_or(self.allow && across >= self.from)
    }
}

impl Default for Glue {
    fn default() -> Glue {
        Glue::of(Unit::Inch)
    }
}
