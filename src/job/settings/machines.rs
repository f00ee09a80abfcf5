//! `[machines]`: what the maker's machines take.

use super::{Keys, Section};
use crate::measure::Length;

/// What the maker's machines take.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Machines {
    /// Widest piece that can be flattened and planed; nothing for no limit.
    pub widest: Option<Length>,
}

impl Section for Machines {
    const NAME: &'static str = "machines";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.size_or_none("widest", &mut self.widest);
    }
}
