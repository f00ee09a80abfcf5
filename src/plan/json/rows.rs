//! `plan.json` as it stands in the file, apart from the plan itself. Every length is a decimal
//! number of `unit`s.

use serde::{Deserialize, Serialize};

use crate::measure::Unit;
use crate::plan::{End, Face, Fate};
use crate::wood::Cut;

/// The version of the format these rows describe. The first one, of the same rows, did not hold
/// its cuts to be plain.
pub(super) const FORMAT: u32 = 2;

#[derive(Serialize, Deserialize)]
pub(super) struct PlanRow {
    pub format: u32,
    #[serde(default)]
    pub title: String,
    pub unit: Unit,
    pub totals: TotalsRow,
    pub boards: Vec<BoardRow>,
    #[serde(default)]
    pub not_made: Vec<NotMadeRow>,
    /// Only in a plan made after the saw had begun.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sawn: Vec<SawnRow>,
    /// Only where a board was cut through beside the plan.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub crosscuts: Vec<CrosscutRow>,
    /// Fronts whose chalk stays where an earlier plan had it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stays: Vec<String>,
    /// Only of fronts fitted to an opening for all seasons.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fitted: Vec<FittedRow>,
}

/// How a front's wood was taken to be sawn when its size was fitted to its opening.
#[derive(Serialize, Deserialize)]
pub(super) struct FittedRow {
    pub front: String,
    pub cut: Cut,
}

/// A blank cut before the plan was made, with its section and strip.
#[derive(Serialize, Deserialize)]
pub(super) struct SawnRow {
    pub board: String,
    pub copy: u32,
    pub fate: Fate,
    pub section: [f64; 2],
    pub strip: [f64; 2],
    pub blank: BlankRow,
}

#[derive(Serialize, Deserialize)]
pub(super) struct CrosscutRow {
    pub board: String,
    pub copy: u32,
    pub at: f64,
}

#[derive(Serialize, Deserialize)]
pub(super) struct TotalsRow {
    pub fronts: usize,
    pub made: usize,
    pub boards_used: usize,
    // Litres in a metric job, and named so: see `volume_names`.
    #[serde(alias = "litres_used")]
    pub feet_used: f64,
    #[serde(alias = "litres_fronts")]
    pub feet_fronts: f64,
    #[serde(alias = "litres_kept")]
    pub feet_kept: f64,
    #[serde(rename = "yield")]
    pub yield_share: f64,
    pub breaks: usize,
    pub glue_lines: usize,
    // Not in plans of earlier versions.
    #[serde(default)]
    pub mixed_logs: usize,
    #[serde(default)]
    pub mixed_cuts: usize,
    pub tone_run: f64,
    pub tone_case: f64,
    pub cost: f64,
    pub bound: f64,
    pub gap: f64,
    pub proved: bool,
    pub seconds: f64,
    /// Only in a plan made by money.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub money: Option<MoneyRow>,
    /// Mean difference of facing edges over all joints that photographs show, in dE00; only where they show one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reads: Option<f64>,
    /// The same of the plan of equal cost that was found first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reads_first: Option<f64>,
}

#[derive(Serialize, Deserialize)]
pub(super) struct MoneyRow {
    pub buy: f64,
    pub owned: f64,
    pub mean_price: f64,
}

#[derive(Serialize, Deserialize)]
pub(super) struct BoardRow {
    pub board: String,
    pub copy: u32,
    pub tone: f64,
    #[serde(default)]
    pub kept: Vec<KeptRow>,
    pub sections: Vec<SectionRow>,
}

#[derive(Serialize, Deserialize)]
pub(super) struct KeptRow {
    pub from: f64,
    pub to: f64,
    pub low: f64,
    pub high: f64,
}

#[derive(Serialize, Deserialize)]
pub(super) struct SectionRow {
    pub from: f64,
    pub to: f64,
    pub strips: Vec<StripRow>,
}

#[derive(Serialize, Deserialize)]
pub(super) struct StripRow {
    pub low: f64,
    pub high: f64,
    pub blanks: Vec<BlankRow>,
}

#[derive(Serialize, Deserialize)]
pub(super) struct BlankRow {
    pub front: String,
    pub stave: u32,
    pub staves: u32,
    pub run: String,
    pub stretch: u32,
    pub from: f64,
    pub to: f64,
    pub low: f64,
    pub high: f64,
    pub left: End,
    pub face: Face,
}

#[derive(Serialize, Deserialize)]
pub(super) struct NotMadeRow {
    pub front: String,
    pub why: String,
    pub buy: String,
}
