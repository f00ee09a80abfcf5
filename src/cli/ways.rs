//! Plans to choose from, for the terminal.

use std::fmt::Write as _;

use grainrow::commands::Planned;
use grainrow::measure::Unit;
use grainrow::plan::Totals;
use grainrow::ways::{Way, Ways};

use super::tally::table;

/// The table of ways, the price of each step between them, and where they are.
pub fn of(planned: &Planned, ways: &Ways) -> String {
    let money = planned.plan.totals.money.is_some();
    let unit = planned.reading.job.settings.unit;
    let wood = match unit {
        Unit::Inch => "feet",
        Unit::Mm => "litres",
    };
    let glue = ways.ways.iter().any(|way| way.plan.totals.glue_lines > 0);
    let mut names = vec!["way", if money { "money" } else { wood }, "breaks"];
    names.extend(["tone in runs", "over all"]);
    if glue {
        names.push("glue lines");
    }
    names.extend(["cost", "unbroken", "tone_run", "tone_case", "that is"]);
    let mut table = table(&names, names.len());
    for (index, way) in ways.ways.iter().enumerate() {
        let mark = if index == ways.chosen { "*" } else { "" };
        let totals = &way.plan.totals;
        let mut cells = vec![
            format!("{}{mark}", index + 1),
            format!("{:.2}", lumber(totals)),
            totals.breaks.to_string(),
            format!("{:.1}", totals.tone_run),
            format!("{:.1}", totals.tone_case),
        ];
        if glue {
            cells.push(totals.glue_lines.to_string());
        }
        let worth = &way.best_for;
        cells.push(format!("{:.2}", totals.cost));
        cells.extend([worth.unbroken, worth.tone_run, worth.tone_case].map(short));
        cells.push(verdict(way));
        table.add_row(cells);
    }
    let mut text = format!(
        "Ways to choose from; * is best at this job's worths. `unbroken`, `tone_run` and `tone_case`\n\
         under [worth] for which each is best:\n{}\n",
        table.trim_fmt()
    );
    text += &steps(ways, unit);
    text += match ways.complete {
        true => "No other plan is best for any such worths.\n",
        false => "There may be more.\n",
    };
    let folder = planned.out.join("ways");
    let _ = writeln!(text, "Each is in {}, by number.", folder.display());
    text
}

fn steps(ways: &Ways, unit: Unit) -> String {
    let mut text = String::new();
    for (index, way) in ways.ways.iter().enumerate() {
        if let Some(step) = way.step {
            // Writing to a string can't fail.
            let _ = writeln!(text, "  {index} to {}: {}", index + 1, step.in_words(unit));
        }
    }
    text
}

fn lumber(totals: &Totals) -> f64 {
    match totals.money {
        Some(money) => money.buy + money.owned,
        None => totals.feet_used.value(),
    }
}

/// At most three decimals, no idle zeros.
fn short(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn verdict(way: &Way) -> String {
    match way.proved {
        true => "proved best".to_owned(),
        false => format!("at most {:.1} % above the best", 100.0 * way.gap),
    }
}
