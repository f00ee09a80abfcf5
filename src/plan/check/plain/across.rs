//! Rule 10 (c): a strip is as wide as its widest blank, and every blank lies at one of its edges.

use super::super::view::{Placed, View};
use super::super::{Rule, Violation};
use super::strip_stood;

/// The blanks of one strip. A strip that was there before may be wider; new blanks lie at its edges
/// all the same.
pub(super) fn check(view: &View, blanks: &[Placed]) -> Vec<Violation> {
    let Some(first) = blanks.first() else {
        return Vec::new();
    };
    let strip = &first.section.strips[first.at[2]];
    let (low, high) = (view.show(strip.low), view.show(strip.high));
    let mut found = Vec::new();
    let widest = blanks.iter().map(Placed::width).max();
    let is_new = !strip_stood(view, first.planned, first.section, strip);
    if let Some(widest) = widest.filter(|&w| is_new && w != strip.high - strip.low) {
        let widest = view.show(widest);
        let text = format!("strip {low} to {high}: its widest blank is {widest}");
        found.push(view.on_board(Rule::Plain, first.planned, text));
    }
    let loose = |placed: &&Placed| {
        let blank = placed.blank;
        !view.stood(blank) && blank.low != strip.low && blank.high != strip.high
    };
    found.extend(blanks.iter().filter(loose).map(|placed| {
        let text = format!("lies at neither edge of its strip {low} to {high}");
        placed.fault(Rule::Plain, text)
    }));
    found
}
