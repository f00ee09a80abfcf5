//! An estimate for the terminal.

use std::fmt::Write as _;

use grainrow::commands::Estimated;
use grainrow::estimate::{Chance, Estimate, LOSS_NOTE, Percentile, amount, asked, fine_amount};
use grainrow::measure::{Length, Unit};

use super::tally::table;

/// How many runs are listed.
const MOST_RUNS: usize = 12;

/// Of fewer piles the high percentiles are guesses.
const FEW_TRIALS: usize = 100;

/// What to buy, why, and what would change it.
pub fn of(estimated: &Estimated) -> String {
    let estimate = &estimated.estimate;
    let mut text = String::new();
    if !estimate.title.is_empty() {
        let _ = writeln!(text, "{}\n", estimate.title);
    }
    for part in [
        need(estimate),
        stacks(estimate),
        savings(estimate),
        have(estimate),
        thumb(estimate),
        runs(estimated),
        notes(estimate),
    ] {
        if !part.is_empty() {
            let _ = writeln!(text, "{part}\n");
        }
    }
    let files = estimated.files.join(", ");
    let _ = writeln!(text, "In {}: {files}", estimated.out.display());
    text
}

fn need(estimate: &Estimate) -> String {
    let unit = estimate.unit;
    let mut table = table(
        &[
            "buy", "fronts", "net", "rough", "50 %", "80 %", "90 %", "95 %",
        ],
        1,
    );
    let mut row = |name: &str, fronts: usize, net: f64, rough: f64, feet: &[Percentile]| {
        let mut cells = vec![
            name.to_owned(),
            fronts.to_string(),
            fine_amount(unit, net),
            fine_amount(unit, rough),
        ];
        cells.extend(feet.iter().map(|p| interval(p, unit)));
        table.add_row(cells);
    };
    for lot in &estimate.lots {
        row(
            &lot.thickness,
            lot.fronts,
            lot.net,
            lot.rough,
            &lot.need.feet,
        );
    }
    if estimate.lots.len() != 1 {
        row(
            "all",
            estimate.fronts,
            estimate.net,
            estimate.rough,
            &estimate.all.feet,
        );
    }
    let mut price = |name: &str, money: &[Percentile]| {
        let mut cells = vec![name.to_owned(), String::new(), String::new(), String::new()];
        cells.extend(
            money
                .iter()
                .map(|p| with_interval(p, |money| format!("{money:.0}"))),
        );
        table.add_row(cells);
    };
    if estimate.lots.len() != 1 || estimate.all.money.is_none() {
        for lot in &estimate.lots {
            if let Some(money) = &lot.need.money {
                price(&format!("{} money", lot.thickness), money);
            }
        }
    }
    if let Some(money) = &estimate.all.money {
        price("money", money);
    }
    format!(
        "{}, and how sure so {} (in brackets: 95 % interval)\n{}",
        match unit {
            Unit::Inch => "Board feet",
            Unit::Mm => "Cubic metres",
        },
        match unit {
            Unit::Inch => "many suffice",
            Unit::Mm => "much suffices",
        },
        table.trim_fmt()
    )
}

/// Both ways of buying side by side: boards as they come, and the best of a stack.
fn stacks(estimate: &Estimate) -> String {
    let Some(first) = estimate.stacks.first() else {
        return String::new();
    };
    let unit = estimate.unit;
    let mut table = table(&["", "suffices", "50 %", "80 %", "90 %", "95 %"], 1);
    let mut row = |name: String, share: String, feet: &[Percentile]| {
        let mut cells = vec![name, share];
        cells.extend(feet.iter().map(|p| interval(p, unit)));
        table.add_row(cells);
    };
    let come = "boards as they come".to_owned();
    row(come, String::new(), &estimate.all.feet);
    for stack in &estimate.stacks {
        let [low, high] = stack.suffices_between.map(|share| (share * 100.0).round());
        row(
            format!("the best of {}", stack.look_through),
            format!("{:.0} % ({low}-{high})", stack.suffices * 100.0),
            &stack.percentiles,
        );
    }
    let volumes = match unit {
        Unit::Inch => "Board feet",
        Unit::Mm => "Cubic metres",
    };
    format!(
        "{volumes} bought when so many boards of each thickness are looked through ({} stacks tried)\n{}",
        first.stacks,
        table.trim_fmt()
    )
}

/// So much wood to buy.
fn interval(percentile: &Percentile, unit: Unit) -> String {
    with_interval(percentile, |value| amount(unit, value))
}

fn with_interval(percentile: &Percentile, written: impl Fn(f64) -> String) -> String {
    let show = |value: Option<f64>| value.map_or("?".to_owned(), &written);
    let Percentile {
        value, low, high, ..
    } = *percentile;
    match value {
        None => "not reached".to_owned(),
        Some(_) => format!("{} ({}-{})", show(value), show(low), show(high)),
    }
}

fn savings(estimate: &Estimate) -> String {
    let unit = estimate.unit;
    let worth: Vec<String> = estimate
        .savings
        .iter()
        .filter(|saving| saving.saved > 0.05)
        .map(|saving| {
            let sure = saving.feet.iter().find(|p| p.percent == 90.0);
            let sure = sure.map_or(String::new(), |p| {
                format!(", {} at 90 %", interval(p, unit))
            });
            format!(
                "  {}: {} {} less on average{sure}",
                many(saving.breaks, "break"),
                fine_amount(unit, saving.saved),
                unit.bulk()
            )
        })
        .collect();
    if worth.is_empty() {
        return "Allowing breaks would save nothing.".to_owned();
    }
    format!("Allowing breaks would save\n{}", worth.join("\n"))
}

fn have(estimate: &Estimate) -> String {
    let unit = estimate.unit;
    let line = |held: &grainrow::estimate::Held| {
        let bought = |thickness: &String| estimate.lots.iter().any(|l| l.thickness == *thickness);
        if let Some(idle) = held.thickness.as_ref().filter(|t| !bought(t)) {
            return format!("No front is bought in {idle}: none of it is needed");
        }
        let of = held
            .thickness
            .as_ref()
            .map_or(String::new(), |t| format!(" of {t}"));
        format!(
            "{} {}{of} {} with a chance of {}",
            asked(unit, held.feet),
            unit.bulk(),
            match unit {
                Unit::Inch => "suffice",
                Unit::Mm => "suffices",
            },
            chance(&held.chance)
        )
    };
    estimate
        .have
        .iter()
        .map(line)
        .collect::<Vec<_>>()
        .join("\n")
}

fn chance(chance: &Chance) -> String {
    let percent = |share: f64| format!("{:.0}", 100.0 * share);
    format!(
        "{} % ({}-{})",
        percent(chance.share),
        percent(chance.low),
        percent(chance.high)
    )
}

fn thumb(estimate: &Estimate) -> String {
    let line = |thumb: &grainrow::estimate::Thumb| {
        format!(
            "  net and {} %: {} {}, short in {} of the piles",
            thumb.percent,
            fine_amount(estimate.unit, thumb.feet),
            estimate.unit.bulk(),
            chance(&thumb.short)
        )
    };
    let lines: Vec<String> = estimate.thumb.iter().map(line).collect();
    format!(
        "The rule of thumb (common practice, no source)\n{}",
        lines.join("\n")
    )
}

fn runs(estimated: &Estimated) -> String {
    let estimate = &estimated.estimate;
    let ruler = estimated.job.settings.ruler();
    let length = |value: f64| ruler.show(Length::from_unit(value, estimate.unit));
    let mut table = table(
        &[
            "run",
            "drives",
            "thick",
            "least length",
            "least width",
            &format!("{} at 90 %", estimate.unit.bulk()),
        ],
        1,
    );
    for run in estimate.runs.iter().take(MOST_RUNS) {
        let first = run.first_fit.iter().find(|p| p.percent == 90.0);
        table.add_row([
            run.run.clone(),
            format!("{:.0} %", 100.0 * run.drives),
            run.thickness.clone(),
            length(run.length),
            length(run.width),
            match (run.whole, first) {
                (true, Some(first)) => interval(first, estimate.unit),
                _ => "none: breaks".to_owned(),
            },
        ]);
    }
    let more = estimate.runs.len().saturating_sub(MOST_RUNS);
    let more = match more {
        0 => String::new(),
        more => format!("\nand {} that drive the need less", many(more, "run")),
    };
    format!(
        "What to ask for: the least flat, clear board that takes each run whole ({}),\nin how many piles the run was not whole before the last board came, and how\nmuch was bought when the first such board had come in 90 % of the piles\n{}{more}\n\
         No board under {} long or {} wide makes any front in one piece.",
        match estimate.unit {
            Unit::Inch => "inches",
            Unit::Mm => "mm",
        },
        table.trim_fmt(),
        length(estimate.useless_below_length),
        length(estimate.useless_below_width),
    )
}

fn notes(estimate: &Estimate) -> String {
    let mut lines = vec![format!(
        "{} random piles, seed {}, of\n{}.",
        estimate.trials, estimate.seed, estimate.yard
    )];
    if estimate.trials < FEW_TRIALS {
        lines.push("So few piles tell little: give it more with --time or --trials.".to_owned());
    }
    if estimate.unfinished > 0 {
        lines.push(format!(
            "{} not bought to the end when it was stopped, and left out: what is left leans a little\nto piles bought soon.",
            were(estimate.unfinished, "more pile")
        ));
    }
    let forced: usize = estimate.lots.iter().map(|lot| lot.forced_breaks).sum();
    if forced > 0 {
        lines.push(format!(
            "{} can't be spared: no board of this yard is long enough.",
            many(forced, "break")
        ));
    }
    if estimate.breaks > 0 {
        lines.push(format!("{} allowed.", many(estimate.breaks, "break")));
    }
    if estimate.endless > 0 {
        lines.push(format!(
            "In {} no pile up to 12 times the blanks' wood sufficed.",
            many(estimate.endless, "trial")
        ));
    }
    lines.push(format!(
        "Boards are bought as they come, {}, until the fast planner makes every\n\
             front; a maker who may choose needs less.",
        match estimate.unit {
            Unit::Inch => "tallied as the trade does",
            Unit::Mm => "measured as they are",
        }
    ));
    lines.push(LOSS_NOTE.to_owned());
    lines.join("\n")
}

fn were(count: usize, what: &str) -> String {
    let verb = if count == 1 { "was" } else { "were" };
    format!("{} {verb}", many(count, what))
}

fn many(count: usize, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}
