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

    /// In words, for a job in `unit`: `saves 3 breaks for 4.50 board feet`.
    pub fn in_words(&self, unit: Unit) -> String {
        let (mut saved, mut more) = (Vec::new(), Vec::new());
        let mut note = |change: f64, text: String| {
            if change < -1e-9 {
                saved.push(text);
            } else if change > 1e-9 {
                more.push(format!("{text} more"));
            }
        };
        note(self.breaks as f64, counted(self.breaks, "break"));
        note(self.tone_run, toned(self.tone_run, "in the runs"));
        note(self.tone_case, toned(self.tone_case, "over all"));
        let glue_lines = counted(self.glue_lines, "glue line");
        note(self.glue_lines as f64, glue_lines);
        let price = self.money.unwrap_or(self.feet);
        let amount = self.amount(price.abs(), unit);
        if price < -1e-9 {
            saved.push(amount.clone());
        }
        let mut words = match saved.is_empty() {
            true => "takes other boards".to_owned(),
            false => format!("saves {}", saved.join(" and ")),
        };
        if price > 1e-9 {
            words += &format!(" for {amount}");
        } else if price >= -1e-9 {
            words += " at no other price";
        }
        if !more.is_empty() {
            words += &format!(", with {}", more.join(" and "));
        }
        words
    }

    fn amount(&self, price: f64, unit: Unit) -> String {
        match self.money {
            Some(_) => format!("{price:.2} in money"),
            None => Volume::new(price).show(unit),
        }
    }
}

fn counted(change: i64, what: &str) -> String {
    let count = change.unsigned_abs();
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {what}{plural}")
}

fn toned(change: f64, place: &str) -> String {
    let steps = change.abs();
    let plural = if steps == 1.0 { "" } else { "s" };
    format!("{steps} tone step{plural} {place}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_says_what_is_saved_its_price_and_what_there_is_more_of() {
        let step = Step {
            feet: 4.5,
            money: None,
            breaks: -3,
            tone_run: 0.0,
            tone_case: 0.0,
            glue_lines: 0,
        };
        let words = |step: Step| step.in_words(Unit::Inch);
        assert_eq!(words(step), "saves 3 breaks for 4.50 board feet");
        let both = Step {
            breaks: -2,
            tone_run: 0.5,
            tone_case: -1.0,
            ..step
        };
        assert_eq!(
            words(both),
            "saves 2 breaks and 1 tone step over all for 4.50 board feet, with 0.5 tone steps in \
             the runs more"
        );
        let money = Step {
            money: Some(12.0),
            tone_run: -1.5,
            breaks: 0,
            ..step
        };
        assert_eq!(
            words(money),
            "saves 1.5 tone steps in the runs for 12.00 in money"
        );
    }

    /// What is cheaper is told as saved: no price is below nothing.
    #[test]
    fn no_price_is_negative() {
        let step = Step {
            feet: -1.25,
            money: None,
            breaks: -1,
            tone_run: 0.0,
            tone_case: 0.0,
            glue_lines: 2,
        };
        assert_eq!(
            step.in_words(Unit::Inch),
            "saves 1 break and 1.25 board feet, with 2 glue lines more"
        );
        let none = Step {
            feet: 0.0,
            breaks: 0,
            glue_lines: 0,
            ..step
        };
        assert_eq!(
            none.in_words(Unit::Inch),
            "takes other boards at no other price"
        );
    }
}
