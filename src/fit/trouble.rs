//! Why an opening, a bevel or an arch can't be fitted.

use super::opening::{Impossible, NoQuad};
use crate::job::{Front, Trouble};
use crate::measure::{Length, Ruler};

/// Why a front can't be fitted.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FitTrouble {
    /// Measurements that are those of no opening.
    #[error("{}", no_quad(.why, .ruler))]
    NoQuad {
        /// What is impossible, and what is likely wrong.
        why: NoQuad,
        /// How lengths are printed.
        ruler: Ruler,
    },
    /// Gaps that leave nothing of the front.
    #[error("the gaps of front {front} leave no wood between them")]
    GapsTooWide {
        /// The front.
        front: String,
    },
    /// A bevel as deep as the stock.
    #[error(
        "the bevel drops {} and front {front} is {} thick: nothing is left of its edge",
        .ruler.show_with_unit(*.drop), .ruler.show_with_unit(*.thickness)
    )]
    BevelTooDeep {
        /// The front.
        front: String,
        /// How much the bevel takes off the edge.
        drop: Length,
        /// The front's thickness.
        thickness: Length,
        /// How lengths are printed.
        ruler: Ruler,
    },
    /// A shared arch that falls below the bottom of a front under it.
    #[error(
        "the arch falls {} under its crest at an end of front {front}, which is {} high as drawn: no \
         side is left there", .ruler.show_with_unit(*.falls), .ruler.show_with_unit(*.height)
    )]
    ArchTooHigh {
        /// The front.
        front: String,
        /// How far the arch falls from its highest point over the front to its lower end.
        falls: Length,
        /// The front's height as drawn, to its highest point.
        height: Length,
        /// How lengths are printed.
        ruler: Ruler,
    },
    /// A curve that does not span the opening.
    #[error("the arch over front {front} can't span {}", .ruler.show_with_unit(*.across))]
    ArchTooNarrow {
        /// The front.
        front: String,
        /// From corner to corner.
        across: Length,
        /// How lengths are printed.
        ruler: Ruler,
    },
}

impl FitTrouble {
    /// A curve that can't span `across` millimetres over a front.
    pub(super) fn arch(front: &Front, across: f64, ruler: Ruler) -> FitTrouble {
        FitTrouble::ArchTooNarrow {
            front: front.name.clone(),
            across: Length::from_mm(across),
            ruler,
        }
    }
}

fn no_quad(why: &NoQuad, ruler: &Ruler) -> String {
    let suspect = why.suspect.measure.column();
    match why.fault {
        Impossible::CannotClose => {
            format!("an opening with these measurements can't close; `{suspect}` is likely wrong")
        }
        Impossible::Dented => {
            format!("with these measurements a corner points inwards; `{suspect}` is likely wrong")
        }
        Impossible::DiagonalsDisagree(by) => format!(
            "these measurements contradict each other by {}; `{suspect}` is likely wrong",
            ruler.show_with_unit(Length::from_nm(by.nm().abs()))
        ),
    }
}

impl Trouble for FitTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            FitTrouble::NoQuad { why, ruler } => format!(
                "about {}, going by the other measurements",
                ruler.show_with_unit(why.suspect.expected)
            ),
            FitTrouble::GapsTooWide { .. } => "an opening wider than its gaps".into(),
            FitTrouble::BevelTooDeep {
                thickness, ruler, ..
            } => {
                format!("a drop of less than {}", ruler.show_with_unit(*thickness))
            }
            FitTrouble::ArchTooHigh { .. } => "a smaller rise".into(),
            FitTrouble::ArchTooNarrow { .. } => "an arch of a larger radius".into(),
        })
    }

    fn hint(&self) -> Option<String> {
        Some(match self {
            FitTrouble::NoQuad { .. } => {
                "measure it again; all six are inside sizes, corner to corner".into()
            }
            FitTrouble::GapsTooWide { .. } => {
                "look at this opening and at [gaps] in job.toml".into()
            }
            FitTrouble::ArchTooNarrow { .. } => {
                "look at the arch's chord and rise, and at `top`, the straight way from corner to \
                 corner"
                    .into()
            }
            FitTrouble::ArchTooHigh { .. } => {
                "a front's height in fronts.csv is to its highest point under the arch".into()
            }
            FitTrouble::BevelTooDeep { .. } => return None,
        })
    }
}
