//! What it costs to go from one way to the next.

use serde::Serialize;

use crate::measure::{Unit, Volume};
use crate::plan::Totals;

/// Differences between a way and the one before it: positive is more.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Step {
    /// Board feet used.
    pub feet: f64,
    /// Money, when planned by money.
    pub money: Option<f64>,
    /// Breaks.
    pub breaks: i64,
    /// Tone steps inside runs.
    pub tone_run: f64,
    /// Tone steps over all.
    pub tone_case: f64,
    /// Glue lines.
    pub glue_lines: i64,
}

impl Step {
    /// From one plan to another.
    pub(super) fn between(from: &Totals, to: &Totals) -> Step {
        let count = |from: usize, to: usize| to as i64 - from as i64;
        let money = from.money.zip(to.money);
        Step {
            feet: to.feet_used.value() - from.feet_used.value(),
            money: money.map(|(from, to)| to.buy + to.owned - from.buy - from.owned),
            breaks: count(from.breaks, to.breaks),
            tone_run: to.tone_run - from.tone_run,
            tone_case: to.tone_case - from.tone_case,
            glue_lines: count(from.glue_lines, to.glue_lines),
        }
    }

    /// In words, for a job in `unit`: `1 break fewer costs 3.4 board feet`.
    pub fn in_words(&self, unit: Unit) -> String {
        let (mut better, mut worse) = (Vec::new(), Vec::new());
        let mut note = |change: f64, text: String| {
            if change < -1e-9 {
                better.push(text);
            } else if change > 1e-9 {
                worse.push(text);
            }
        };
        note(self.breaks as f64, counted(self.breaks, "break"));
        note(self.tone_run, toned(self.tone_run, "in the runs"));
        note(self.tone_case, toned(self.tone_case, "over all"));
        note(
            self.glue_lines as f64,
            counted(self.glue_lines, "glue line"),
        );
        if better.is_empty() {
            better.push("other boards".to_owned());
        }
        let several = better.len() > 1 || self.breaks < -1 || better[0].contains("steps");
        let but = match worse.is_empty() {
            true => String::new(),
            false => format!(", but {},", worse.join(" and ")),
        };
        let verb = if several { "cost" } else { "costs" };
        format!("{}{but} {verb} {}", better.join(" and "), self.price(unit))
    }

    fn price(&self, unit: Unit) -> String {
        match self.money {
            Some(money) => format!("{money:.2} in money"),
            None => Volume::new(self.feet).show(unit),
        }
    }
}

fn counted(change: i64, what: &str) -> String {
    let count = change.unsigned_abs();
    let plural = if count == 1 { "" } else { "s" };
    let how = if change < 0 { "fewer" } else { "more" };
    format!("{count} {what}{plural} {how}")
}

fn toned(change: f64, place: &str) -> String {
    let how = if change < 0.0 { "less" } else { "more" };
    let steps = change.abs();
    let plural = if steps == 1.0 { "" } else { "s" };
    format!("{steps} tone step{plural} {how} {place}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_says_what_is_gained_what_is_lost_and_its_price() {
        let step = Step {
            feet: 3.4,
            money: None,
            breaks: -1,
            tone_run: 0.0,
            tone_case: 0.0,
            glue_lines: 0,
        };
        assert_eq!(
            step.in_words(Unit::Inch),
            "1 break fewer costs 3.40 board feet"
        );
        let both = Step {
            breaks: -2,
            tone_run: 0.5,
            tone_case: -1.0,
            ..step
        };
        assert_eq!(
            both.in_words(Unit::Inch),
            "2 breaks fewer and 1 tone step less over all, but 0.5 tone steps more in the runs, \
             cost 3.40 board feet"
        );
        let money = Step {
            money: Some(12.0),
            tone_run: -1.5,
            breaks: 0,
            ..step
        };
        assert_eq!(
            money.in_words(Unit::Inch),
            "1.5 tone steps less in the runs cost 12.00 in money"
        );
    }
}
