//! How much more one plan takes than another, in figures and in words.

use serde::Serialize;

use crate::measure::{Unit, Volume};
use crate::plan::Totals;

/// How much more a plan takes than another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Costs {
    /// Board feet, or litres.
    pub feet: f64,
    /// Breaks.
    pub breaks: i64,
    /// Glue lines.
    pub glue_lines: i64,
    /// Logs beyond the first, over the runs.
    pub mixed_logs: i64,
    /// Ways of sawing beyond the first, over the runs.
    pub mixed_cuts: i64,
    /// Tone steps inside runs.
    pub tone_run: f64,
    /// Tone steps over all.
    pub tone_case: f64,
    /// All of it.
    pub cost: f64,
}

impl Costs {
    /// From one plan to another.
    pub fn between(from: &Totals, to: &Totals) -> Costs {
        let count = |from: usize, to: usize| to as i64 - from as i64;
        // What is below the precision of a proof is nothing.
        let less = |from: f64, to: f64| {
            if (to - from).abs() < 1e-6 {
                0.0
            } else {
                to - from
            }
        };
        Costs {
            feet: less(from.feet_used.value(), to.feet_used.value()),
            breaks: count(from.breaks, to.breaks),
            glue_lines: count(from.glue_lines, to.glue_lines),
            mixed_logs: count(from.mixed_logs, to.mixed_logs),
            mixed_cuts: count(from.mixed_cuts, to.mixed_cuts),
            tone_run: less(from.tone_run, to.tone_run),
            tone_case: less(from.tone_case, to.tone_case),
            cost: less(from.cost, to.cost),
        }
    }

    /// In words: `1.8 board feet and 1 tone step more in the runs`.
    pub fn in_words(&self, unit: Unit) -> String {
        let counted = |change: i64, what: &str| {
            let plural = if change.abs() == 1 { "" } else { "s" };
            let how = if change < 0 { "fewer" } else { "more" };
            (change != 0).then(|| format!("{} {what}{plural} {how}", change.abs()))
        };
        let toned = |change: f64, place: &str| {
            let (steps, how) = (change.abs(), if change < 0.0 { "less" } else { "more" });
            let plural = if steps == 1.0 { "" } else { "s" };
            (change != 0.0).then(|| format!("{steps:.1} tone step{plural} {how} {place}"))
        };
        let how = if self.feet < 0.0 { "less" } else { "more" };
        let wood = (self.feet != 0.0)
            .then(|| format!("{} {how}", Volume::new(self.feet.abs()).show(unit)));
        let all = [
            wood,
            counted(self.breaks, "break"),
            counted(self.glue_lines, "glue line"),
            counted(self.mixed_logs, "log"),
            counted(self.mixed_cuts, "way of sawing"),
            toned(self.tone_run, "in the runs"),
            toned(self.tone_case, "over all"),
        ];
        let told: Vec<String> = all.into_iter().flatten().collect();
        match told.as_slice() {
            [] => "nothing".to_owned(),
            _ => format!("{:.2}: {}", self.cost, told.join(", ")),
        }
    }
}
