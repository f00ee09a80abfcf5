//! Rule 3: a blank keeps clear of every defect that shows on its face or goes through.

use super::view::{Placed, View};
use super::{Rule, Violation};
use crate::job::{Defect, DefectSide};
use crate::plan::Face;

pub(super) fn check(view: &View) -> Vec<Violation> {
    let mut found = Vec::new();
    for placed in view.blanks() {
        let met = placed
            .board
            .defects
            .iter()
            .filter(|d| meets(view, &placed, d));
        found.extend(met.map(|defect| {
            let text = format!(
                "blank {} to {} by {} to {} is too near the {:?} at {} to {} by {} to {}",
                view.show(placed.blank.from),
                view.show(placed.blank.to),
                view.show(placed.blank.low),
                view.show(placed.blank.high),
                defect.kind,
                view.show(defect.from),
                view.show(defect.to),
                view.show(defect.low),
                view.show(defect.high),
            );
            placed.fault(Rule::Defects, text)
        }));
    }
    found
}

fn meets(view: &View, placed: &Placed, defect: &Defect) -> bool {
    let near = view.job.settings.allowances.clear;
    let blank = placed.blank;
    shows(defect.side, blank.face)
        && blank.from < defect.to + near
        && defect.from - near < blank.to
        && blank.low < defect.high + near
        && defect.low - near < blank.high
}

/// Whether a defect on this side can be seen on that face.
pub(super) fn shows(side: DefectSide, face: Face) -> bool {
    match side {
        DefectSide::Both => true,
        DefectSide::Up => face == Face::Up,
        DefectSide::Down => face == Face::Down,
    }
}
