//! Rule 1: sections across the board, strips along a section, blanks along a strip, each within
//! what holds it and a kerf from its neighbour.

use super::view::View;
use super::{Rule, Violation};
use crate::job::Board;
use crate::measure::Length;
use crate::plan::{BoardPlan, Section, Strip};

/// A piece along one direction, and what it is called.
type Piece = (Length, Length);

pub(super) fn check(view: &View) -> Vec<Violation> {
    let mut found = Vec::new();
    for planned in &view.plan.boards {
        let mut faults = sections(view, planned);
        for section in &planned.sections {
            faults.extend(strips(view, view.kind(planned), section));
            for strip in &section.strips {
                faults.extend(blanks(view, section, strip));
            }
        }
        found.extend(
            faults
                .into_iter()
                .map(|text| view.on_board(Rule::Cuts, planned, text)),
        );
    }
    found
}

fn sections(view: &View, planned: &BoardPlan) -> Vec<String> {
    let allow = &view.job.settings.allowances;
    let board = view.kind(planned);
    let within = between_trims(view, board);
    let pieces: Vec<Piece> = planned.sections.iter().map(|s| (s.from, s.to)).collect();
    row_faults(view, "section", &pieces, within, allow.crosscut_kerf)
}

/// Where the wood between a board's end trims begins and ends: its own, or the job's.
pub(super) fn between_trims(view: &View, board: &Board) -> (Length, Length) {
    let trim = view.job.settings.allowances.end_trim;
    let far = board.trim_far.unwrap_or(trim);
    (board.trim_hook.unwrap_or(trim), board.length - far)
}

/// A crooked section loses more at its edges than a short one: its bend is the board's, by the
/// square of the length, and half of it lies at either edge.
fn strips(view: &View, board: &Board, section: &Section) -> Vec<String> {
    let allow = &view.job.settings.allowances;
    let within = usable_width(view, board, section);
    let pieces: Vec<Piece> = section.strips.iter().map(|s| (s.low, s.high)).collect();
    row_faults(view, "strip", &pieces, within, allow.rip_kerf)
}

/// Between which widths a section's strips may lie: half its bend, rounded up to a nanometre, and
/// the edge trim off either edge.
pub(super) fn usable_width(view: &View, board: &Board, section: &Section) -> (Length, Length) {
    let square = |length: Length| i128::from(length.nm()) * i128::from(length.nm());
    let (long, whole) = (square(section.to - section.from), square(board.length));
    let bend = i128::from(board.crook.nm()) * long;
    let half = bend.div_euclid(2 * whole) + i128::from(bend.rem_euclid(2 * whole) > 0);
    // No bend is wider than the board's, which is a length itself.
    let half = Length::from_nm(i64::try_from(half).unwrap_or(i64::MAX / 4));
    let trim = view.job.settings.allowances.edge_trim + half;
    (trim, board.width - trim)
}

fn blanks(view: &View, section: &Section, strip: &Strip) -> Vec<String> {
    let allow = &view.job.settings.allowances;
    let along: Vec<Piece> = strip.blanks.iter().map(|b| (b.from, b.to)).collect();
    let within = (section.from, section.to);
    let mut faults = row_faults(view, "blank", &along, within, allow.crosscut_kerf);
    for blank in &strip.blanks {
        let across = [(blank.low, blank.high)];
        let within = (strip.low, strip.high);
        faults.extend(row_faults(
            view,
            "blank's width",
            &across,
            within,
            Length::ZERO,
        ));
    }
    faults
}

/// Pieces of one row: each runs forward, lies within, and follows the one before by a kerf.
fn row_faults(
    view: &View,
    what: &str,
    pieces: &[Piece],
    within: Piece,
    kerf: Length,
) -> Vec<String> {
    let show = |(from, to): Piece| format!("{} to {}", view.show(from), view.show(to));
    let mut faults = Vec::new();
    for &(from, to) in pieces {
        if from >= to {
            faults.push(format!("{what} {} has no size", show((from, to))));
        }
        if from < within.0 || to > within.1 {
            faults.push(format!(
                "{what} {} is not within {}",
                show((from, to)),
                show(within)
            ));
        }
    }
    for pair in pieces.windows(2) {
        if pair[0].1 + kerf > pair[1].0 {
            let (first, second) = (show(pair[0]), show(pair[1]));
            let kerf = view.show(kerf);
            faults.push(format!("{what} {second} is not {kerf} past {first}"));
        }
    }
    faults
}
