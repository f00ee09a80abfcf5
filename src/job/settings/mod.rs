//! The settings of `job.toml`, with the defaults a maker would start from.
//!
//! One file a section. To add one: a struct with its defaults in either unit (`of`), its
//! [`Section`] (see [`Glue`] for the shortest), a field of [`Settings`], and a line in
//! [`Settings::read`].

mod allowances;
mod case;
mod glue;
mod keys;
mod labels;
mod machines;
mod money;
mod photo;
mod printed;
mod trouble;
mod worth;
mod yard;

pub use allowances::{Allowances, Between};
pub use case::Case;
pub use glue::Glue;
pub use keys::{Cells, Keys};
pub use labels::{Labels, Sheet};
pub use machines::Machines;
pub use money::{PricedBy, Pricing};
pub use photo::PhotoSettings;
pub use trouble::KeyTrouble;
pub use worth::Worth;
pub use yard::{MOST_LOOKED_THROUGH, Mix, OnSale, Span, Yard, YardTrouble};

use std::sync::Arc;

use toml::de::DeTable;

use super::fault::{Fault, Faults, Place, Source};
use super::fitting::{Fitting, FittingTrouble};
use crate::measure::{Length, Ruler, Unit, Volume};
use crate::wood;

/// One `[section]` of `job.toml`, reading itself over its defaults.
pub trait Section {
    /// The name between the brackets.
    const NAME: &'static str;

    /// Reads every key of the section into its field; a key that is not there or faulty
    /// leaves the default.
    fn read(&mut self, keys: &mut Keys<'_>);
}

/// Everything `job.toml` says.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// The job's title.
    pub title: String,
    /// The unit bare numbers are in, and results are written in.
    pub unit: Unit,
    /// Finest parts of the unit printed: 8, 16, 32 or 64 of an inch, 1 or 2 of a millimetre.
    pub fraction: u32,
    /// A species the wood table knows, or empty.
    pub species: String,
    /// What the saws, the jointer and the planer take.
    pub allowances: Allowances,
    /// What looks are worth, in board feet or litres.
    pub worth: Worth,
    /// What prices are for.
    pub pricing: Pricing,
    /// Gluing fronts up from staves.
    pub glue: Glue,
    /// What the machines take.
    pub machines: Machines,
    /// How the fronts stand on the case.
    pub case: Case,
    /// Gaps, climate, bevel, arches and pulls.
    pub fitting: Fitting,
    /// Measuring boards by their photographs.
    pub photo: PhotoSettings,
    /// The sheet labels are printed on.
    pub labels: Labels,
    /// What boards the yard tends to have.
    pub yard: Yard,
}

impl Settings {
    /// Reads `job.toml`; faults are added to `faults` and leave the defaults in place.
    pub fn read(source: &Arc<Source>, faults: &mut Faults) -> Settings {
        let mut settings = Settings::default();
        let (table, errors) = DeTable::parse_recoverable(source.text());
        for error in &errors {
            let place = match error.span() {
                Some(span) => Place::span_of(source, span),
                None => Place::file_of(source),
            };
            let trouble = KeyTrouble::Syntax(error.message().to_owned());
            faults.push(Fault::new(place, trouble));
        }
        if errors.is_empty() {
            settings.read_table(source, table.get_ref(), faults);
        }
        settings
    }

    fn read_table(&mut self, source: &Arc<Source>, table: &DeTable<'_>, faults: &mut Faults) {
        let mut keys = Keys::new(source, "", table, self.unit, faults);
        keys.text("title", &mut self.title);
        keys.choice("units", &mut self.unit);
        keys.set_unit(self.unit);
        let title = std::mem::take(&mut self.title);
        *self = Settings {
            title,
            ..Settings::of(self.unit)
        };
        printed::read(&mut keys, self.unit, &mut self.fraction);
        keys.value(
            "species",
            "a name between quotation marks",
            &mut self.species,
            |cell| {
                let name = cell.text();
                if let Some(Err(why)) = (!name.is_empty()).then(|| wood::find(name)) {
                    return Err(cell.fault(FittingTrouble::species(why)));
                }
                Ok(name.to_owned())
            },
        );
        keys.section(&mut self.allowances);
        keys.section(&mut self.pricing);
        keys.section(&mut self.worth);
        keys.section(&mut self.glue);
        keys.section(&mut self.machines);
        keys.section(&mut self.case);
        self.fitting.read(&mut keys);
        keys.section(&mut self.photo);
        keys.section(&mut self.labels);
        keys.section(&mut self.yard);
        keys.finish();
        self.price_own_volumes();
    }

    /// Prices are written per board foot or cubic metre, and reckoned with per board foot in an
    /// inch job, per litre in a metric one.
    fn price_own_volumes(&mut self) {
        let volumes = self.pricing.volumes(self.unit);
        self.worth.owned /= volumes;
        for sale in &mut self.yard.thickness {
            sale.price = sale.price.map(|price| price / volumes);
        }
    }

    /// The volume of a piece as this job counts it.
    pub fn volume(&self, length: Length, width: Length, thickness: Length) -> Volume {
        Volume::of_piece(self.unit, length, width, thickness)
    }

    /// The defaults of a job in `unit`: round numbers in it.
    pub fn of(unit: Unit) -> Settings {
        Settings {
            title: String::new(),
            unit,
            fraction: Ruler::of(unit).fraction,
            species: String::new(),
            allowances: Allowances::of(unit),
            worth: Worth::of(unit),
            pricing: Pricing::of(unit),
            glue: Glue::of(unit),
            machines: Machines::default(),
            case: Case::default(),
            fitting: Fitting::of(unit),
            photo: PhotoSettings::default(),
            labels: Labels::of(unit),
            yard: Yard::of(unit),
        }
    }

    /// How lengths of this job are printed.
    pub fn ruler(&self) -> Ruler {
        Ruler {
            unit: self.unit,
            fraction: self.fraction,
        }
    }
}

impl Default for Settings {
    fn default() -> Settings {
        Settings::of(Unit::Inch)
    }
}

#[cfg(test)]
mod tests;
