//! A plan's figures in the maker's words.

use serde_json::{Value, json};

use crate::measure::Unit;
use crate::plan::Totals;

/// The figures, each a name and what it says.
pub fn figures(totals: &Totals, unit: Unit) -> Value {
    let mut list = vec![
        (
            "fronts made",
            format!("{} of {}", totals.made, totals.fronts),
        ),
        ("wood used", totals.feet_used.show(unit)),
        ("kept for the rack", totals.feet_kept.show(unit)),
        ("yield", format!("{:.0} %", totals.yield_share * 100.0)),
        ("boards cut", totals.boards_used.to_string()),
        ("breaks", totals.breaks.to_string()),
        ("tone steps in runs", format!("{:.1}", totals.tone_run)),
        ("tone steps over all", format!("{:.1}", totals.tone_case)),
    ];
    let counted = [
        ("glue lines", totals.glue_lines),
        ("logs mixed in runs", totals.mixed_logs),
        ("ways of sawing mixed", totals.mixed_cuts),
    ];
    let some = counted.into_iter().filter(|(_, count)| *count > 0);
    list.extend(some.map(|(name, count)| (name, count.to_string())));
    if let Some(money) = &totals.money {
        list.push(("to buy", format!("{:.2}", money.buy)));
    }
    json!(list)
}

/// How good the plan is known to be.
pub fn proof(totals: &Totals) -> Value {
    let percent = totals.gap * 100.0;
    json!({
        "proved": totals.proved,
        "cost": totals.cost,
        "bound": totals.bound,
        "gap": totals.gap,
        "seconds": totals.seconds,
        "words": match totals.proved {
            true => "proved best: no plan by these rules costs less".to_owned(),
            false if totals.bound > 0.0 => {
                format!("at most {percent:.1} % above the best possible")
            }
            false => "not proved yet".to_owned(),
        },
    })
}
