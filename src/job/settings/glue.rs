//! `[glue]`: gluing fronts up from staves.

use super::{Keys, Section};
use crate::measure::Length;

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

impl Default for Glue {
    fn default() -> Glue {
        Glue {
            allow: true,
            least_stave: Length::from_inches(2.0),
            joint: Length::from_inches(0.125),
        }
    }
}
