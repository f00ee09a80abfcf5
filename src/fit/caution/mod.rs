//! What a maker should look at again before cutting.

mod say;

use serde::Serialize;

use super::season::Season;
use crate::job::{Edge, Mode};
use crate::measure::{Length, Ruler};
use crate::wood::{Cut, Moisture};

/// One thing to look at again.
#[derive(Clone, Debug, PartialEq)]
pub enum Caution {
    /// A gap falls below the least, or an overlap does.
    Closes {
        /// Gap or overlap.
        mode: Mode,
        /// Where.
        edge: Edge,
        /// When.
        season: Season,
        /// To what; below zero the front sticks.
        to: Length,
        /// The least asked for.
        least: Length,
    },
    /// A gap or an overlap grows beyond the most.
    Opens {
        /// Gap or overlap.
        mode: Mode,
        /// Where.
        edge: Edge,
        /// When.
        season: Season,
        /// To what.
        to: Length,
        /// The most asked for.
        most: Length,
    },
    /// Two overlay fronts on one divider come too near to each other.
    Crowds {
        /// How the two stand: `one above the other` or `side by side`.
        how: &'static str,
        /// When.
        season: Season,
        /// Width of the divider.
        divider: Length,
        /// To what; below zero they overlap.
        to: Length,
        /// The least asked for.
        least: Length,
        /// How far each covers the divider today: this front at either of its edges.
        now: [Length; 2],
    },
    /// The wood is moister today than the house ever makes it.
    OnlyShrinks,
    /// A moisture the movement figures are not meant for.
    BeyondCoefficients {
        /// When.
        season: Season,
        /// Which.
        moisture: Moisture,
    },
    /// A corner far from square.
    Leans {
        /// Which corner.
        corner: &'static str,
        /// By how many degrees.
        degrees: f64,
    },
    /// Six measurements that do not quite agree.
    Disagrees {
        /// By how much.
        by: Length,
        /// The most any one was adjusted by.
        adjusted: Length,
    },
    /// A fitted size far from the one drawn.
    FarFromDrawn {
        /// `width` or `height`.
        what: &'static str,
        /// As drawn.
        drawn: Length,
        /// As fitted.
        fitted: Length,
    },
    /// Corner heights that do not go with the arch.
    OffArch {
        /// How much higher the right corner was measured than the left one.
        measured: Length,
        /// How much higher the arch makes it.
        expected: Length,
    },
    /// An arch whose chord is not what stands under it.
    ArchChord {
        /// The arch.
        arch: String,
        /// As written.
        chord: Length,
        /// The openings and the dividers between them: when `space_after` runs from front to
        /// front, and when it is the divider's own width.
        under: [Length; 2],
    },
    /// The board the front is cut from is sawn in another way than was reckoned with.
    SawnOtherwise {
        /// As the board is.
        board: Cut,
        /// Its name.
        name: String,
        /// As reckoned with.
        reckoned: Cut,
        /// Whether the maker wrote that.
        typed: bool,
    },
    /// Wedges no sled takes.
    TooSteepToShim,
    /// A bevel that leans farther than a saw's blade.
    TiltedTooFar {
        /// From upright, in degrees.
        tilt: f64,
    },
    /// A bevel that a blade does not reach across.
    BladeTooShort {
        /// The blade it takes, above the table.
        blade: Length,
        /// What there is.
        reach: Length,
    },
    /// Bevels from opposite edges meet.
    BevelMeetsItself,
    /// The bevel leaves a thin edge.
    ThinEdge {
        /// How thin.
        left: Length,
        /// The least asked for.
        least: Length,
    },
    /// An edge too short to feed past a saw by hand.
    ShortToBevel {
        /// Which edges.
        edges: Vec<Edge>,
        /// The shortest the shop feeds by hand.
        least: Length,
    },
    /// A hole that cuts into a bevel.
    HoleInBevel {
        /// The pull.
        pull: u32,
        /// The bevel's edge.
        edge: Edge,
    },
    /// A hole that comes too near to an edge or a bevel.
    HoleNearEdge {
        /// The pull.
        pull: u32,
        /// The edge.
        edge: Edge,
        /// Wood between the hole and it; below zero the hole lies outside.
        wood: Length,
    },
    /// Two pulls whose holes cross.
    PullsOverlap,
}

/// A caution in words and as a word, for other programs.
#[derive(Clone, Debug, Serialize)]
pub struct Said {
    /// Which kind.
    pub kind: &'static str,
    /// In words.
    pub text: String,
}

impl Caution {
    /// Its kind, as one word.
    pub fn kind(&self) -> &'static str {
        match self {
            Caution::Closes { .. } => "closes",
            Caution::Opens { .. } => "opens",
            Caution::Crowds { .. } => "crowds",
            Caution::OnlyShrinks => "only_shrinks",
            Caution::BeyondCoefficients { .. } => "beyond_coefficients",
            Caution::Leans { .. } => "leans",
            Caution::Disagrees { .. } => "disagrees",
            Caution::FarFromDrawn { .. } => "far_from_drawn",
            Caution::OffArch { .. } => "off_arch",
            Caution::ArchChord { .. } => "arch_chord",
            Caution::SawnOtherwise { .. } => "sawn_otherwise",
            Caution::TooSteepToShim => "too_steep_to_shim",
            Caution::TiltedTooFar { .. } => "tilted_too_far",
            Caution::BladeTooShort { .. } => "blade_too_short",
            Caution::BevelMeetsItself => "bevel_meets_itself",
            Caution::ThinEdge { .. } => "thin_edge",
            Caution::ShortToBevel { .. } => "short_to_bevel",
            Caution::HoleInBevel { .. } => "hole_in_bevel",
            Caution::HoleNearEdge { .. } => "hole_near_edge",
            Caution::PullsOverlap => "pulls_overlap",
        }
    }

    /// Words and kind together.
    pub fn said(&self, ruler: &Ruler) -> Said {
        Said {
            kind: self.kind(),
            text: self.say(ruler),
        }
    }
}
