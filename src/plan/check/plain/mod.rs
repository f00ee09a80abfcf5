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
//!   end must be for that, and one a kerf from that end is anchored by it. That end has not grown over slack:
//!   at the end trim, or a kerf from an anchored section, it is an anchor. It may do so from an end
//!   that has grown over all the slack, which is then its anchor.
//! * **No slack** is between a blank and an end when the blank could lie no nearer that end on
//!   sound wood; it may stand clear of the defect with either of its ends, in the plan or pushed to
//!   that end.
//!
//! **After the saw has begun** all this binds only what is newly placed: sections, strips and blanks
//! of which nothing lay there before, cut or chalked. What did is a neighbour like any other, and
//! anchors what lies a kerf from it; a sawn end of the board counts as an end trim, and a stave may
//! take all the width that is left beside strips that were there. In a strip with pieces that were
//! there, new blanks lie as near to those, or to the section's end, on one side.

mod across;
mod groups;
mod growth;
mod row;
mod section;
mod staves;
mod strip;

use super::cuts::between_trims;
use super::view::{Placed, View, board_name};
use super::{Rule, Violation};
use crate::plan::{BoardPlan, Section, Strip};
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
        let of_board = |placed: &&Placed| placed.at[0] == index;
        let blanks: Vec<Placed> = blanks.iter().filter(of_board).copied().collect();
        found.extend(lengths(view, planned, &blanks));
        for strip in blanks.chunk_by(|a, b| a.at[..3] == b.at[..3]) {
            found.extend(pushed(view, strip));
            found.extend(across::check(view, strip));
        }
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

/// Whether a strip was there before the plan was made: something was cut from it, or chalk stays in
/// it.
fn strip_stood(view: &View, planned: &BoardPlan, section: &Section, strip: &Strip) -> bool {
    let pieces = view.sawn.into_iter().flat_map(|sawn| &sawn.pieces);
    let cut = |p: &crate::plan::SawnPiece| {
        (p.board, p.copy) == (planned.board, planned.copy)
            && p.section == (section.from, section.to)
            && p.strip == (strip.low, strip.high)
    };
    pieces.into_iter().any(cut) || strip.blanks.iter().any(|blank| view.stood(blank))
}

/// (a), for a board with its blanks.
fn lengths(view: &View, planned: &BoardPlan, blanks: &[Placed]) -> Option<Violation> {
    let allow = &view.job.settings.allowances;
    let sections: Vec<Stood> = planned
        .sections
        .iter()
        .enumerate()
        .map(|(index, section)| {
            let inside = |placed: &&Placed| placed.at[1] == index;
            let blanks: Vec<Placed> = blanks.iter().filter(inside).copied().collect();
            stand(view, planned, section, &blanks)
        })
        .collect();
    let text = match growth::fault(&sections, allow.crosscut_kerf, allow.keep_offcut)? {
        Fault::Loose(index) => {
            let rows = &sections[index].rows;
            let (from, to) = (view.show(rows.from), view.show(rows.to));
            format!(
                "section {from} to {to} is neither tight nor grown over all the slack beside it"
            )
        }
        Fault::Shared => {
            "its sections share slack out: a section that has grown, or beside which \
                          another has, does not lie at an end trim, at a defect or beside one that does"
                .to_owned()
        }
    };
    Some(view.on_board(Rule::Plain, planned, text))
}

/// A section as far as its ends are concerned; its blanks are held to nothing when any of them, or
/// its cuts, were there before.
fn stand(view: &View, planned: &BoardPlan, section: &Section, blanks: &[Placed]) -> Stood {
    let allow = &view.job.settings.allowances;
    let Section { from, to, .. } = *section;
    let is_off = |sawn: &crate::plan::Sawn| sawn.is_off((planned.board, planned.copy), (from, to));
    let stood = blanks.is_empty()
        || blanks.iter().any(|placed| view.stood(placed.blank))
        || view.sawn.is_some_and(is_off);
    let crosscuts = view.sawn.into_iter().flat_map(|sawn| &sawn.crosscuts);
    let own = crosscuts.filter(|cut| (cut.board, cut.copy) == (planned.board, planned.copy));
    let sawn_ends: Vec<_> = own
        .map(|cut| (cut.at + allow.crosscut_kerf, cut.at))
        .collect();
    let (hook, far) = between_trims(view, view.kind(planned));
    let lanes = |side| match stood {
        true => Vec::new(),
        false => {
            let strips = blanks.chunk_by(|a, b| a.at[2] == b.at[2]);
            strips.map(|strip| Lane::new(view, strip, side)).collect()
        }
    };
    Stood {
        rows: Rows {
            from,
            to,
            hook: lanes(Side::Hook),
            far: lanes(Side::Far),
        },
        stood,
        at_trim: [
            from == hook || sawn_ends.iter().any(|end| end.0 == from),
            to == far || sawn_ends.iter().any(|end| end.1 == to),
        ],
    }
}

/// (b), for the blanks of one strip.
fn pushed(view: &View, strip: &[Placed]) -> Option<Violation> {
    let new = strip.iter().find(|placed| !view.stood(placed.blank))?;
    let Section { from, to, .. } = *new.section;
    let is_pushed = |side: Side| {
        let (near, far) = side.span((from, to));
        Lane::new(view, strip, side).is_pushed(near, far)
    };
    let text = "the blanks of its strip are not all as near their neighbours on one side as they \
                can lie"
        .to_owned();
    (!is_pushed(Side::Hook) && !is_pushed(Side::Far)).then(|| new.fault(Rule::Plain, text))
}
