//! What keeps a job from being bought at this yard at all.

use serde::Serialize;

use crate::job::{Job, Run};
use crate::measure::{Length, Unit};

/// A front no board of this yard could make.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("{front}: {why}; {cure}")]
pub struct Obstacle {
    /// The front's name.
    pub front: String,
    /// Why not.
    pub why: Why,
    /// What would cure it.
    pub cure: String,
}

/// Why no board of the yard makes a front.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum Why {
    /// Thicker than what is on sale.
    #[error(
        "too thick: with the final skim off both faces it needs {needs}, and the thickest stock on sale is {thickest}"
    )]
    TooThick {
        /// What it needs.
        needs: String,
        /// What there is.
        thickest: String,
    },
    /// Too long or too wide.
    #[error("{0}")]
    NoBoard(String),
}

impl Obstacle {
    /// A run whose thickest front no stock on sale holds.
    pub(super) fn too_thick(job: &Job, run: &Run) -> Obstacle {
        let settings = &job.settings;
        let ruler = settings.ruler().finest();
        let thickness = |&front: &usize| job.fronts[front].thickness;
        let front = run
            .fronts
            .iter()
            .copied()
            .max_by_key(thickness)
            .unwrap_or(0);
        let needs = job.fronts[front].thickness + settings.allowances.plane * 2;
        let thickest = settings.yard.thickness.iter().map(|s| s.thickness).max();
        let stock = match settings.unit {
            Unit::Inch => format!("{}/4", (needs.inches() * 4.0 - 1e-9).ceil() as i64),
            Unit::Mm => format!("{} mm", (needs.mm() - 1e-9).ceil() as i64),
        };
        Obstacle {
            front: job.fronts[front].name.clone(),
            why: Why::TooThick {
                needs: ruler.show_with_unit(needs),
                thickest: ruler.show_with_unit(thickest.unwrap_or(Length::ZERO)),
            },
            cure: format!("add {stock} or thicker stock to `thickness` in [yard], or plane less"),
        }
    }
}
