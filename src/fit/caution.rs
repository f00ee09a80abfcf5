//! What a maker should look at again before cutting.

use serde::Serialize;

use super::season::Season;
use crate::job::{Edge, Mode};
use crate::measure::{Length, Ruler};
use crate::wood::Moisture;

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

/// `the left and right edges are`
fn listed(edges: &[Edge]) -> String {
    let words: Vec<&str> = edges.iter().map(|edge| edge.word()).collect();
    match words.as_slice() {
        [one] => format!("the {one} edge is"),
        _ => format!("the {} edges are", words.join(" and ")),
    }
}

impl Caution {
    /// The caution in words.
    pub fn say(&self, ruler: &Ruler) -> String {
        let show = |length: &Length| ruler.show_with_unit(*length);
        match self {
            Caution::Closes {
                mode: Mode::Inset,
                edge,
                season,
                to,
                least,
            } => match *to < Length::ZERO {
                true => format!(
                    "it sticks: the gap at the {} closes when {} (it would overlap by {})",
                    edge.word(),
                    season.when(),
                    show(&-*to)
                ),
                false => format!(
                    "the gap at the {} closes to {} when {}, less than {}",
                    edge.word(),
                    show(to),
                    season.when(),
                    show(least)
                ),
            },
            Caution::Closes {
                edge,
                season,
                to,
                least,
                ..
            } => format!(
                "it covers the frame by only {} at the {} when {}, less than {}",
                show(to),
                edge.word(),
                season.when(),
                show(least)
            ),
            Caution::Opens {
                mode,
                edge,
                season,
                to,
                most,
            } => format!(
                "the {} at the {} opens to {} when {}, more than {}",
                match mode {
                    Mode::Inset => "gap",
                    Mode::Overlay => "overlap",
                },
                edge.word(),
                show(to),
                season.when(),
                show(most)
            ),
            Caution::Crowds {
                how,
                season,
                divider,
                to,
                least,
            } => {
                let start = format!("two such fronts {how} on one divider of {}", show(divider));
                let most = (*divider - *least).half();
                let cure = format!("let each cover it by at most {} then", show(&most));
                match *to < Length::ZERO {
                    true => format!("{start} run into each other when {}: {cure}", season.when()),
                    false => format!(
                        "{start} leave only {} between them when {}, less than {}: {cure}",
                        show(to),
                        season.when(),
                        show(least)
                    ),
                }
            }
            other => other.say_rest(ruler),
        }
    }

    fn say_rest(&self, ruler: &Ruler) -> String {
        let show = |length: &Length| ruler.show_with_unit(*length);
        match self {
            Caution::OnlyShrinks => "the wood is moister today than the house ever makes it: it \
                                     will only shrink; let it rest in drier air before fitting"
                .into(),
            Caution::BeyondCoefficients { season, moisture } => format!(
                "wood at {moisture} ({}) is outside the 6 to 14 % the movement figures are meant \
                 for: take them as rough",
                season.word()
            ),
            Caution::Leans { corner, degrees } => format!(
                "the {corner} corner is {degrees:.1} degrees from square: measure this opening \
                 again before cutting"
            ),
            Caution::Disagrees { by, adjusted } => format!(
                "the two diagonals disagree by {}; shared out, no measurement is off by more \
                 than {}",
                show(by),
                show(adjusted)
            ),
            Caution::FarFromDrawn {
                what,
                drawn,
                fitted,
            } => format!(
                "its {what} comes out as {}, and fronts.csv says {}: is this its opening?",
                show(fitted),
                show(drawn)
            ),
            Caution::OffArch { measured, expected } => format!(
                "the right corner was measured {} higher than the left, and the arch makes it {}: \
                 measure both corners again",
                show(measured),
                show(expected)
            ),
            other => other.say_bevel(ruler),
        }
    }

    fn say_bevel(&self, ruler: &Ruler) -> String {
        let show = |length: &Length| ruler.show_with_unit(*length);
        match self {
            Caution::BevelMeetsItself => {
                "the bevels from opposite edges meet: no flat is left in the middle".into()
            }
            Caution::ThinEdge { left, least } => format!(
                "the bevel leaves an edge of {}, thinner than {}",
                show(left),
                show(least)
            ),
            Caution::ShortToBevel { edges, least } => format!(
                "{} under {} long, the shortest this shop feeds by hand: bevel there on a carrier \
                 or with a plane",
                listed(edges),
                show(least)
            ),
            Caution::HoleInBevel { pull, edge } => format!(
                "a hole of pull {pull} cuts into the bevel at the {}",
                edge.word()
            ),
            Caution::HoleNearEdge { pull, edge, wood } => match *wood < Length::ZERO {
                true => format!("a hole of pull {pull} runs over the {} edge", edge.word()),
                false => format!(
                    "only {} of wood is left between a hole of pull {pull} and the {} edge or its \
                     bevel",
                    show(wood),
                    edge.word()
                ),
            },
            _ => "the two pulls' holes cross: give this front one pull".into(),
        }
    }

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
