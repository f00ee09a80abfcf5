//! `[money]`: what prices are for.

use super::{Keys, Section};
use crate::job::choice::Choice;
use crate::measure::{LITRES_IN_BOARD_FOOT, LITRES_IN_M3, Unit};

/// `[money]` of `job.toml`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pricing {
    /// What a price is for: of `price` in `boards.csv` and `[yard]`, and of `[worth] owned`.
    pub per: PricedBy,
}

/// The amount of wood a price is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PricedBy {
    /// A board foot.
    BoardFoot,
    /// A cubic metre.
    CubicMetre,
}

impl Pricing {
    /// Inch jobs price the board foot, metric ones the cubic metre.
    pub fn of(unit: Unit) -> Pricing {
        let per = match unit {
            Unit::Inch => PricedBy::BoardFoot,
            Unit::Mm => PricedBy::CubicMetre,
        };
        Pricing { per }
    }

    /// How many of the job's own volumes (board feet or litres) a price pays for. Board feet and
    /// litres are taken by their true size: thin stock is not counted as an inch in between.
    pub fn volumes(self, unit: Unit) -> f64 {
        match (self.per, unit) {
            (PricedBy::BoardFoot, Unit::Inch) => 1.0,
            (PricedBy::BoardFoot, Unit::Mm) => LITRES_IN_BOARD_FOOT,
            (PricedBy::CubicMetre, Unit::Inch) => LITRES_IN_M3 / LITRES_IN_BOARD_FOOT,
            (PricedBy::CubicMetre, Unit::Mm) => LITRES_IN_M3,
        }
    }
}

impl Section for Pricing {
    const NAME: &'static str = "money";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.choice("per", &mut self.per);
    }
}

impl Choice for PricedBy {
    const WORDS: &'static [(&'static str, PricedBy)] = &[
        ("board foot", PricedBy::BoardFoot),
        ("m3", PricedBy::CubicMetre),
    ];
}
