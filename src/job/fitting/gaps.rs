//! The gaps a front leaves in its opening, or how far it covers the frame around it.

use serde::{Deserialize, Serialize};

use super::LENGTH;
use super::{Edge, Edges, FittingTrouble, Places};
use crate::job::Grain;
use crate::job::choice::Choice;
use crate::job::settings::{Keys, Section};
use crate::measure::{Length, Unit};

/// `[gaps]` of `job.toml`.
#[derive(Clone, Debug, PartialEq)]
pub struct Gaps {
    /// In the opening, or over the frame around it.
    pub mode: Mode,
    /// Inset: the gap at the two edges where wood does not move, at the ends of the grain (left
    /// and right with horizontal grain).
    pub sides: Length,
    /// Inset: the gap that must remain when it is at its tightest. Overlay: the overlap that
    /// must remain at its least, and the gap that must remain between two fronts on one divider.
    pub least: Length,
    /// The widest gap (or overlap) that still looks right.
    pub most: Length,
    /// Which edge a front keeps its place at while it grows and shrinks.
    pub anchor: Anchor,
    /// Overlay: how far a front covers the frame.
    pub overlap: Length,
    /// Overlay: how wide a divider is that two neighbours cover from either side, when known.
    pub divider: Option<Length>,
    /// What an edge's gap (or overlap) shall be today, whatever the seasons do.
    pub fixed: Edges<Option<Length>>,
    /// Where in `job.toml` these stand, as far as they are written.
    pub places: Places,
}

/// How fronts sit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Mode {
    /// Inside their openings, flush with the case.
    #[default]
    Inset,
    /// In front of the case, covering the frame around their openings.
    Overlay,
}

/// Which edge of a front keeps its place while the wood moves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Anchor {
    /// The middle: growth is shared by both edges.
    #[default]
    Centre,
    /// The bottom edge: all growth is upwards.
    Bottom,
    /// The top edge: all growth is downwards.
    Top,
    /// The left edge, such as a door hinged there.
    Left,
    /// The right edge.
    Right,
}

impl Anchor {
    /// Each edge's share of a front's growth. Wood moves across the grain only: an anchor at an
    /// end of the grain says nothing, and the growth is shared as from the centre.
    pub fn shares(self, grain: Grain) -> Edges<f64> {
        let none = Edges::all(0.0);
        match (grain, self) {
            (Grain::Horizontal, Anchor::Bottom) => Edges { top: 1.0, ..none },
            (Grain::Horizontal, Anchor::Top) => Edges {
                bottom: 1.0,
                ..none
            },
            (Grain::Horizontal, _) => Edges {
                top: 0.5,
                bottom: 0.5,
                ..none
            },
            (Grain::Vertical, Anchor::Left) => Edges { right: 1.0, ..none },
            (Grain::Vertical, Anchor::Right) => Edges { left: 1.0, ..none },
            (Grain::Vertical, _) => Edges {
                left: 0.5,
                right: 0.5,
                ..none
            },
        }
    }
}

impl Section for Gaps {
    const NAME: &'static str = "gaps";

    fn read(&mut self, keys: &mut Keys<'_>) {
        keys.choice("mode", &mut self.mode);
        keys.length("sides", &mut self.sides);
        keys.length("least", &mut self.least);
        keys.length("most", &mut self.most);
        keys.choice("anchor", &mut self.anchor);
        keys.length("overlap", &mut self.overlap);
        keys.value("divider", LENGTH, &mut self.divider, |cell| {
            cell.size().map(Some)
        });
        for edge in Edge::ALL {
            let slot = self.fixed.at_mut(edge);
            keys.value(edge.word(), LENGTH, slot, |cell| cell.distance().map(Some));
        }
        let edges = Edge::ALL.map(Edge::word);
        let lengths = ["sides", "least", "most", "overlap", "divider"];
        for key in lengths.into_iter().chain(edges).chain(["anchor"]) {
            if keys.has(key) {
                self.places.keep(key, keys.place_of(key));
            }
        }
        if self.least > self.most {
            keys.fault_at("least", FittingTrouble::LeastAboveMost);
        }
    }
}

impl Choice for Mode {
    const WORDS: &'static [(&'static str, Mode)] =
        &[("inset", Mode::Inset), ("overlay", Mode::Overlay)];
}

impl Choice for Anchor {
    const WORDS: &'static [(&'static str, Anchor)] = &[
        ("centre", Anchor::Centre),
        ("center", Anchor::Centre),
        ("bottom", Anchor::Bottom),
        ("top", Anchor::Top),
        ("left", Anchor::Left),
        ("right", Anchor::Right),
    ];
}

impl Gaps {
    /// What a maker who measures in `unit` would start from.
    pub fn of(unit: Unit) -> Gaps {
        let size = |inches, mm| Length::round_in(unit, inches, mm);
        Gaps {
            mode: Mode::Inset,
            sides: size(0.0625, 1.5),
            least: size(0.03125, 1.0),
            most: size(0.25, 6.0),
            anchor: Anchor::Centre,
            overlap: size(0.375, 10.0),
            divider: None,
            fixed: Edges::all(None),
            places: Places::default(),
        }
    }
}

impl Default for Gaps {
    fn default() -> Gaps {
        Gaps::of(Unit::Inch)
    }
}
