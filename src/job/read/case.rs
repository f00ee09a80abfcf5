//! Whether what is said of the case goes together with the fronts.

use super::case_trouble::CaseTrouble;
use super::fronts::FrontRow;
use super::runs::Gathered;
use super::trouble::FrontTrouble;
use crate::job::fault::{Fault, Faults, Place, nearest};
use crate::job::standing::named;
use crate::job::{Case, Front, Grain, Settings};
use crate::measure::{Length, Ruler};

/// Checks the rows of `[case]`, and the places that fronts have of their own.
pub(super) fn check(
    settings: &Settings,
    rows: &[FrontRow<'_>],
    gathered: &Gathered,
    faults: &mut Faults,
) {
    check_names(&settings.case, gathered, faults);
    if faults.forbid_use() {
        return;
    }
    check_sizes(settings, gathered, faults);
    check_stands(settings, rows, gathered, faults);
}

/// Every name is one, and stands there once.
fn check_names(case: &Case, gathered: &Gathered, faults: &mut Faults) {
    let (fronts, runs) = (&gathered.fronts, &gathered.runs);
    let mut placed: Vec<usize> = Vec::new();
    for cell in case.cells.iter().flatten() {
        let members = named(cell.text(), fronts, runs);
        let twice = members.iter().find(|front| placed.contains(front));
        if members.is_empty() {
            let names = runs.iter().map(|run| run.name.as_str());
            let names = names.chain(fronts.iter().map(|front| front.name.as_str()));
            let nearest = nearest(cell.text(), names);
            faults.push(cell.fault(CaseTrouble::UnknownName { nearest }));
        } else if let Some(&front) = twice {
            let front = fronts[front].name.clone();
            faults.push(cell.fault(CaseTrouble::Twice { front }));
        }
        placed.extend(members);
    }
}

/// Rows that don't fit into the case are drawn past it: likely a slip, but no plan depends on it.
fn check_sizes(settings: &Settings, gathered: &Gathered, faults: &mut Faults) {
    let case = &settings.case;
    let show = |length| settings.ruler().show_with_unit(length);
    let mut high = Length::ZERO;
    for row in &case.cells {
        let mut wide = Length::ZERO;
        let mut row_high = Length::ZERO;
        for cell in row {
            let members = named(cell.text(), &gathered.fronts, &gathered.runs);
            let members: Vec<&Front> = members.iter().map(|&f| &gathered.fronts[f]).collect();
            let (width, height) = size_of(&members);
            wide += width;
            row_high = row_high.max(height);
        }
        high += row_high;
        let over = case.width.filter(|&most| wide > most);
        if let (Some(most), Some(first)) = (over, row.first()) {
            let (need, most) = (show(wide), show(most));
            faults.push(first.fault(CaseTrouble::RowTooWide { need, most }));
        }
    }
    let over = case.height.filter(|&most| high > most);
    if let (Some(most), Some(first)) = (over, case.cells.first().and_then(|row| row.first())) {
        let (need, most) = (show(high), show(most));
        faults.push(first.fault(CaseTrouble::RowsTooHigh { need, most }));
    }
}

/// Width and height that fronts of one run take, without what lies between them.
fn size_of(fronts: &[&Front]) -> (Length, Length) {
    let zero = Length::ZERO;
    let widths = || fronts.iter().map(|front| front.width);
    let heights = || fronts.iter().map(|front| front.height);
    let sum = |lengths: &mut dyn Iterator<Item = Length>| lengths.fold(zero, |a, b| a + b);
    match fronts.first().map(|front| (front.grain, front.alike)) {
        Some((Grain::Vertical, false)) => (widths().max().unwrap_or(zero), sum(&mut heights())),
        Some((Grain::Horizontal, true)) => (widths().max().unwrap_or(zero), sum(&mut heights())),
        _ => (sum(&mut widths()), heights().max().unwrap_or(zero)),
    }
}

/// Fronts with a place of their own lie on the case and beside one another.
fn check_stands(
    settings: &Settings,
    rows: &[FrontRow<'_>],
    gathered: &Gathered,
    faults: &mut Faults,
) {
    let placed: Vec<(usize, &Front)> = (gathered.fronts.iter().enumerate())
        .filter(|(_, front)| front.stands.is_some())
        .collect();
    let place = |front: usize, column| -> Place { rows[gathered.row_of[front]].line.place(column) };
    for (i, &(front, one)) in placed.iter().enumerate() {
        for (column, off) in off_case(&settings.case, one, settings.ruler()) {
            faults.push(Fault::new(place(front, column), off));
        }
        let other = placed[..i].iter().find(|(_, other)| overlap(one, other));
        if let Some((_, other)) = other {
            let other = other.name.clone();
            let trouble = FrontTrouble::Overlaps { other };
            faults.push(Fault::new(place(front, "across"), trouble));
        }
    }
}

fn off_case(case: &Case, front: &Front, ruler: Ruler) -> Vec<(&'static str, FrontTrouble)> {
    let stand = front.stands.unwrap_or_default();
    let sides = [
        ("across", stand.across + front.width, case.width, "wide"),
        ("up", stand.up + front.height, case.height, "high"),
    ];
    let over = sides
        .into_iter()
        .filter_map(|(column, end, most, dimension)| {
            let most = most.filter(|&most| end > most)?;
            let size = ruler.show_with_unit(most);
            Some((column, FrontTrouble::OffCase { size, dimension }))
        });
    over.collect()
}

fn overlap(one: &Front, other: &Front) -> bool {
    let (Some(a), Some(b)) = (one.stands, other.stands) else {
        return false;
    };
    a.across < b.across + other.width
        && b.across < a.across + one.width
        && a.up < b.up + other.height
        && b.up < a.up + one.height
}
