//! What a maker says about fitting: openings, gaps, climate, bevels, arches and pulls.

mod arch;
mod bevel;
mod climate;
mod edges;
mod gaps;
mod opening;
mod places;
mod pulls;
mod trouble;

pub use arch::SharedArch;
pub(super) use bevel::BEVEL_ANGLES;
pub use bevel::{BevelRule, BevelSize, blade_reach, thin_edge};
pub use climate::{Climate, Today};
pub use edges::{Edge, Edges};
pub use gaps::{Anchor, Gaps, Mode};
pub use opening::{Measure, Measured, Opening, OwnBevel};
pub use places::Places;
use pulls::Pulls;
pub use pulls::{Level, PullRule};
pub use trouble::FittingTrouble;

use super::settings::{Keys, Section};
use crate::measure::{Length, Unit};

/// The sections of `job.toml` that fitting reads.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fitting {
    /// `[gaps]`
    pub gaps: Gaps,
    /// `[climate]`: without it the seasons are not reckoned with.
    pub climate: Option<Climate>,
    /// `[bevel]`: without it fronts have none.
    pub bevel: Option<BevelRule>,
    /// `[pulls]`: without it no holes are marked.
    pub pulls: Option<PullRule>,
    /// `[sled]`
    pub sled: Sled,
    /// Where in `job.toml` the keys of `[pulls]` stand that may do nothing.
    pub pull_places: Places,
    /// `[[arch]]`, in file order.
    pub arches: Vec<SharedArch>,
}

/// What a key that holds a length should say.
const LENGTH: &str = "a length, between quotation marks or a plain number";

impl Fitting {
    /// What a maker who measures in `unit` would start from.
    pub fn of(unit: Unit) -> Fitting {
        Fitting {
            gaps: Gaps::of(unit),
            sled: Sled::of(unit),
            ..Fitting::default()
        }
    }

    /// The rule for pulls; its defaults when the job has none.
    pub fn pull_rule(&self, unit: Unit) -> PullRule {
        self.pulls.unwrap_or_else(|| PullRule::of(unit))
    }

    /// Reads every fitting section.
    pub(in crate::job) fn read(&mut self, keys: &mut Keys<'_>) {
        keys.section(&mut self.gaps);
        keys.section(&mut self.climate);
        keys.section(&mut self.bevel);
        let mut pulls = Pulls::default();
        keys.section(&mut pulls);
        (self.pulls, self.pull_places) = (pulls.rule, pulls.places);
        keys.section(&mut self.sled);
        keys.sections(&mut self.arches);
    }
}

impl Section for Sled {
    const NAME: &'static str = "sled";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.size("fence", &mut self.fence);
        keys.length("trammel", &mut self.trammel);
    }
}

/// What the maker's own jigs are like.
#[derive(Clone, Debug, PartialEq)]
pub struct Sled {
    /// Along the crosscut sled's fence, from the front's corner beside the blade to the near side of
    /// a shim.
    pub fence: Length,
    /// Longest trammel the shop has room to swing.
    pub trammel: Length,
}

impl Sled {
    /// What a maker who measures in `unit` would start from.
    pub fn of(unit: Unit) -> Sled {
        Sled {
            fence: Length::round_in(unit, 24.0, 600.0),
            trammel: Length::round_in(unit, 96.0, 2400.0),
        }
    }
}

impl Default for Sled {
    fn default() -> Sled {
        Sled::of(Unit::Inch)
    }
}
