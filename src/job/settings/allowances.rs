//! `[allowances]`: what the saws, the jointer and the planer take, and the least that is kept.

use super::{Keys, Section};
use crate::measure::{Length, Unit};

/// What cutting and milling take, and the least that is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowances {
    /// Width of a crosscut.
    pub crosscut_kerf: Length,
    /// Width of a rip cut.
    pub rip_kerf: Length,
    /// Off each end of every board.
    pub end_trim: Length,
    /// Off each edge of every section.
    pub edge_trim: Length,
    /// A blank is this much longer than its front.
    pub rough_length: Length,
    /// A blank is this much wider than its front.
    pub rough_width: Length,
    /// Final skim off each face.
    pub plane: Length,
    /// Kept between a blank and a defect.
    pub clear: Length,
    /// Most wood lost between finished neighbours of one stretch.
    pub longest_skip: Length,
    /// Shortest piece to send over a jointer or through a planer.
    pub shortest_safe: Length,
    /// Shortest kept piece; `None` keeps nothing.
    pub keep_offcut: Option<Length>,
    /// Narrowest kept piece.
    pub keep_width: Length,
    /// What decides the least distance between neighbours of a stretch.
    pub between: Between,
}

/// What decides the least distance between finished neighbours of a stretch.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Between {
    /// As little as the saw allows.
    #[default]
    Tight,
    /// The distance the fronts have on the case, when that is larger.
    AsBuilt,
}

impl Section for Allowances {
    const NAME: &'static str = "allowances";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.length("crosscut_kerf", &mut self.crosscut_kerf);
        keys.length("rip_kerf", &mut self.rip_kerf);
        keys.length("end_trim", &mut self.end_trim);
        keys.length("edge_trim", &mut self.edge_trim);
        keys.length("rough_length", &mut self.rough_length);
        keys.length("rough_width", &mut self.rough_width);
        keys.length("plane", &mut self.plane);
        keys.length("clear", &mut self.clear);
        keys.length("longest_skip", &mut self.longest_skip);
        keys.length("shortest_safe", &mut self.shortest_safe);
        keys.size_or_none("keep_offcut", &mut self.keep_offcut);
        keys.length("keep_width", &mut self.keep_width);
        keys.choice("between", &mut self.between);
    }
}

impl Allowances {
    /// What a maker who measures in `unit` would start from.
    pub fn of(unit: Unit) -> Allowances {
        let size = |inches, mm| Length::round_in(unit, inches, mm);
        Allowances {
            crosscut_kerf: size(0.125, 3.0),
            rip_kerf: size(0.125, 3.0),
            end_trim: size(2.0, 50.0),
            edge_trim: size(0.125, 3.0),
            rough_length: size(1.0, 25.0),
            rough_width: size(0.25, 6.0),
            plane: size(0.03125, 1.0),
            clear: size(0.25, 6.0),
            longest_skip: size(2.0, 50.0),
            shortest_safe: size(12.0, 300.0),
            keep_offcut: Some(size(24.0, 600.0)),
            keep_width: size(4.0, 100.0),
            between: Between::Tight,
        }
    }
}

impl Default for Allowances {
    fn default() -> Allowances {
        Allowances::of(Unit::Inch)
    }
}
