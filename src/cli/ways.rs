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
    let mut names = vec!["", if money { "money" } else { wood }, "breaks"];
    names.extend(["in runs", "over all"]);
    if glue {
        names.push("glued");
    }
    names.extend(["cost", "unbroken", "tone_run", "tone_case"]);
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
        table.add_row(cells);
    }
    let mut text = format!(
        "Ways to choose from; * is best at this job's worths. Tone is in steps, in the\n\
         runs and over all. On the right the worths (under [worth]) for which each is\n\
         best:\n{}\n",
        table.trim_fmt()
    );
    text += &steps(ways, unit);
    text += &verdicts(ways);
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

/// Which ways are proved best for their worths, and how far the others may be from it.
fn verdicts(ways: &Ways) -> String {
    let numbered = || ways.ways.iter().enumerate();
    let name = |(index, _): (usize, &Way)| (index + 1).to_string();
    let proved: Vec<String> = numbered().filter(|(_, way)| way.proved).map(name).collect();
    let mut text = match proved.as_slice() {
        [] => String::new(),
        all if all.len() == ways.ways.len() => "All are proved best.\n".to_owned(),
        some => format!("Proved best: {}.\n", some.join(", ")),
    };
    for (index, way) in numbered().filter(|(_, way)| !way.proved) {
        let (number, gap) = (index + 1, 100.0 * way.gap);
        // Writing to a string can't fail.
        let _ = writeln!(text, "{number} is at most {gap:.1} % above the best.");
    }
    text
}
