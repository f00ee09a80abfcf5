//! Rule 10: plain cuts, what a maker would mark anyway.
//!
//! | clause | file |
//! |---|---|
//! | (a) sections are tight, or grown over slack and anchored | `section`, `growth` |
//! | (b) blanks are pushed to one side | `strip` |
//! | (c) strips are as wide as their widest blank, blanks at their edges | `across` |
//! | (d) staves are ripped to whole steps | `staves` |
//!
//! How its words are taken here:
//!
//! * **Pushed.** A blank's neighbour on the side pushed to is the blank before it, or the section's
//!   end. Each stretch, in its order from that side, lies as near as all its blanks can lie at
//!   once, milled in the pieces it is milled in (rule 5: `groups`); every such parting counts, and
//!   a length set aside for a short stretch lies as near that side as may be too.
//! * **Tight.** An end can move in when, with the other where it is, all strips can be laid anew in
//!   what is left: same blanks, order, faces and places across, any parting for milling.
//! * **Grown.** A section has grown over slack at the ends where it is longer than some tight
//!   section within it: at both ends only when it is longer at both at once. One grown to exactly
//!   `keep_offcut` has its length of itself: it must be anchored, but no section beside its grown
//!   end must be for that, and one a kerf from that end is anchored by it.
//! * **No slack** is between a blank and an end when the blank could lie no nearer that end on
//!   sound wood; it may stand clear of the defect with either of its ends, in the plan or pushed to
//!   that end.

mod across;
mod groups;
mod growth;
mod row;
mod section;
mod staves;
mod strip;

use super::view::{Placed, View, board_name};
use super::{Rule, Violation};
use crate::plan::{BoardPlan, Section};
use growth::{Fault, Stood};
use section::Rows;
use strip::{Lane, Side};

/// What is not plain on the boards that keep every other rule: `broken` are the others' faults.
pub(super) fn check(view: &View, broken: &[Violation]) -> Vec<Violation> {
    let mut found = Vec::new();
    let blanks = view.blanks();
    for (index, planned) in view.plan.boards.iter().enumerate() {
        if is_broken(view, planned, broken) {
            continue;
        }
        let of_board: Vec<&[Placed]> = blanks
            .chunk_by(|a, b| a.at[..2] == b.at[..2])
            .filter(|blanks| blanks[0].at[0] == index)
            .collect();
        found.extend(lengths(view, planned, &of_board));
        for blanks in of_board {
            found.extend(pushed(view, blanks));
        }
        let strips = planned.sections.iter().flat_map(|section| &section.strips);
        found.extend(strips.flat_map(|strip| across::check(view, planned, strip)));
    }
    let whole = |placed: &Placed| !is_broken(view, placed.planned, broken);
    found.extend(staves::check(view, whole));
    found
}

fn is_broken(view: &View, planned: &BoardPlan, broken: &[Violation]) -> bool {
    let name = board_name(&view.kind(planned).id, planned.copy);
    broken
        .iter()
        .any(|fault| fault.board.as_ref() == Some(&name))
}

/// (a), for a board with its blanks section by section.
fn lengths(view: &View, planned: &BoardPlan, blanks: &[&[Placed]]) -> Option<Violation> {
    let allow = &view.job.settings.allowances;
    let end = view.kind(planned).length - allow.end_trim;
    let stand = |section: &[Placed]| {
        let Section { from, to, .. } = *section[0].section;
        Stood {
            rows: Rows {
                from,
                to,
                hook: lanes(view, section, Side::Hook),
                far: lanes(view, section, Side::Far),
            },
            stood: false,
            at_trim: [from == allow.end_trim, to == end],
        }
    };
    let sections: Vec<Stood> = blanks.iter().map(|section| stand(section)).collect();
    let text = match growth::fault(&sections, allow.crosscut_kerf, allow.keep_offcut)? {
        Fault::Loose(index) => {
            let rows = &sections[index].rows;
            let (from, to) = (view.show(rows.from), view.show(rows.to));
            format!("section {from} to {to} is neither tight nor grown over all the slack beside it")
        }
        Fault::Shared => "its sections share slack out: a section that has grown, or beside which \
                          another has, does not lie at an end trim, at a defect or beside one that does"
            .to_owned(),
    };
    Some(view.on_board(Rule::Plain, planned, text))
}

fn lanes(view: &View, section: &[Placed], side: Side) -> Vec<Lane> {
    let strips = section.chunk_by(|a, b| a.at[2] == b.at[2]);
    strips.map(|strip| Lane::new(view, strip, side)).collect()
}

/// (b), for the blanks of one section.
fn pushed(view: &View, section: &[Placed]) -> Vec<Violation> {
    let is_pushed = |strip: &&[Placed]| {
        let Section { from, to, .. } = *strip[0].section;
        [Side::Hook, Side::Far].into_iter().any(|side| {
            let (near, far) = side.span((from, to));
            Lane::new(view, strip, side).is_pushed(near, far)
        })
    };
    let strips = section.chunk_by(|a, b| a.at[2] == b.at[2]);
    let loose = strips.filter(|strip| !is_pushed(strip));
    loose
        .map(|strip| {
            let text =
                "the blanks of its strip are not all as near their neighbours on one side as \
                        they can lie"
                    .to_owned();
            strip[0].fault(Rule::Plain, text)
        })
        .collect()
}
