//! Rule 10 (c): a strip is as wide as its widest blank, and every blank lies at one of its edges.

use super::super::view::View;
use super::super::{Rule, Violation};
use crate::plan::{BoardPlan, Strip};

pub(super) fn check(view: &View, planned: &BoardPlan, strip: &Strip) -> Vec<Violation> {
    let widest = strip
        .blanks
        .iter()
        .map(|blank| blank.high - blank.low)
        .max();
    let (low, high) = (view.show(strip.low), view.show(strip.high));
    let mut faults = Vec::new();
    if let Some(widest) = widest.filter(|&widest| widest != strip.high - strip.low) {
        let widest = view.show(widest);
        faults.push(format!(
            "strip {low} to {high}: its widest blank is {widest}"
        ));
    }
    for blank in &strip.blanks {
        if blank.low != strip.low && blank.high != strip.high {
            let (from, to) = (view.show(blank.low), view.show(blank.high));
            faults.push(format!(
                "strip {low} to {high}: blank {from} to {to} lies at neither of its edges"
            ));
        }
    }
    faults
        .into_iter()
        .map(|text| view.on_board(Rule::Plain, planned, text))
        .collect()
}
