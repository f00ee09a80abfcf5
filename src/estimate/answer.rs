//! What an estimate says. Lengths are in the job's unit, amounts in board feet as tallied, or in
//! litres where the job is in millimetres; `feet` in a name is `litres` in its file then.

use serde::{Deserialize, Serialize};

use super::percentile::{Chance, Percentile};
use super::stack::Stack;
use crate::measure::Unit;

/// How much to buy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// The job's title.
    pub title: String,
    /// Unit of every length here.
    pub unit: Unit,
    /// The yard, in words.
    pub yard: String,
    /// Trials run.
    pub trials: usize,
    /// Trials stopped before their end: those left lean a little to piles bought soon.
    #[serde(default)]
    pub unfinished: usize,
    /// Trials in which no affordable pile sufficed.
    pub endless: usize,
    /// Seed of the piles.
    pub seed: u64,
    /// Breaks allowed beyond those no board of the yard can spare.
    pub breaks: usize,
    /// Fronts.
    pub fronts: usize,
    /// Wood in the finished fronts.
    pub net: f64,
    /// Wood in the blanks.
    pub rough: f64,
    /// Thickness by thickness.
    pub lots: Vec<LotNeed>,
    /// All together.
    pub all: Bought,
    /// What further breaks would save.
    pub savings: Vec<Saving>,
    /// Chances of the purchases asked about.
    pub have: Vec<Held>,
    /// The rule of thumb beside it.
    pub thumb: Vec<Thumb>,
    /// What each run needs, those that drive the need first.
    pub runs: Vec<RunNeed>,
    /// What is bought when a stack is looked through and the best of it taken, by the size of the stack.
    #[serde(default)]
    pub stacks: Vec<Stack>,
    /// No board shorter than this makes any front.
    pub useless_below_length: f64,
    /// No board narrower than this makes any front in one piece.
    pub useless_below_width: f64,
}

/// Percentiles of what has to be bought.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Bought {
    /// Wood, at 50, 80, 90 and 95 %.
    #[serde(alias = "litres")]
    pub feet: Vec<Percentile>,
    /// Its price at the same percentiles, when every price is known.
    pub money: Option<Vec<Percentile>>,
    /// The whole distribution: board feet at every 2 % from 2 to 98.
    pub curve: Vec<(f64, Option<f64>)>,
}

/// The need of one thickness.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LotNeed {
    /// As the trade writes it: `4/4`.
    pub thickness: String,
    /// Price of it where known, per board foot or cubic metre as the job writes it.
    pub price: Option<f64>,
    /// Fronts bought in it.
    pub fronts: usize,
    /// Breaks no board of this yard can spare.
    pub forced_breaks: usize,
    /// Wood in its finished fronts.
    pub net: f64,
    /// Wood in its blanks.
    pub rough: f64,
    /// Boards bought in the middle one of the trials.
    pub boards: usize,
    /// What has to be bought.
    pub need: Bought,
}

/// What allowing some more breaks would save.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Saving {
    /// Breaks allowed in all, beyond the forced ones.
    pub breaks: usize,
    /// Board feet then to buy.
    #[serde(alias = "litres")]
    pub feet: Vec<Percentile>,
    /// Mean of the board feet saved, over the trials that came to an end.
    pub saved: f64,
}

/// A purchase, and the chance that it suffices.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Held {
    /// Board feet.
    #[serde(alias = "litres")]
    pub feet: f64,
    /// Of this thickness, or of all together.
    pub thickness: Option<String>,
    /// The chance.
    pub chance: Chance,
}

/// The rule of thumb: net feet and so many per cent on top. Common practice, no source.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Thumb {
    /// Per cent added.
    pub percent: f64,
    /// Board feet it says.
    #[serde(alias = "litres")]
    pub feet: f64,
    /// The chance that they do not suffice.
    pub short: Chance,
}

/// What one run needs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RunNeed {
    /// The run.
    pub run: String,
    /// What it is bought in.
    pub thickness: String,
    /// Fronts in it.
    pub fronts: usize,
    /// Board feet of its blanks.
    pub rough: f64,
    /// Length of a board that takes it whole, between nothing but its end trims.
    pub length: f64,
    /// Width of such a board.
    pub width: f64,
    /// Whether the yard has boards that take it whole.
    pub whole: bool,
    /// Length of a board that takes its longest front alone.
    pub front_length: f64,
    /// Share of the trials in which it was not whole before the last board came.
    pub drives: f64,
    /// Board feet bought until the first board came that by itself takes it whole.
    pub first_fit: Vec<Percentile>,
}
