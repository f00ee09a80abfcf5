//! Fronts one by one, gathered into runs in the order of their places.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::fronts::{FrontRow, Reads};
use super::trouble::FrontTrouble;
use crate::job::choice::Choice;
use crate::job::fault::{Fault, Faults, nearest};
use crate::job::{Front, Glue, Run};

/// The rows of a named run, by index, each with its place; sorted by place.
type Members = Vec<(i64, usize)>;

/// All fronts in file order, and the runs they stand in.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    pub fronts: Vec<Front>,
    pub runs: Vec<Run>,
    /// The row each front stands in, by index.
    pub row_of: Vec<usize>,
}

/// Writes counted rows out one by one and gathers the fronts into runs; faults between rows
/// are added to `faults`.
pub(super) fn gather(rows: &[FrontRow<'_>], glue: &Glue, faults: &mut Faults) -> Gathered {
    let named = members(rows);
    check_names(rows, faults);
    check_run_names(rows, &named, faults);
    for members in named.values() {
        check_places(rows, members, faults);
        check_grain(rows, members, faults);
        check_reads(rows, members, faults);
    }
    let mut gathered = Gathered::default();
    let mut fronts_of = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        let start = gathered.fronts.len();
        gathered.fronts.extend(copies(row, glue));
        fronts_of.push(start..gathered.fronts.len());
        gathered.row_of.resize(gathered.fronts.len(), index);
    }
    gathered.runs = runs(rows, &named, &gathered.fronts, &fronts_of);
    gathered
}

/// The fronts a row stands for.
fn copies(row: &FrontRow<'_>, glue: &Glue) -> Vec<Front> {
    let Some(front) = &row.front else {
        return Vec::new();
    };
    let one = Front {
        glue: glue.allows(front.glue_asked, front.across()),
        ..front.clone()
    };
    names(&one.name, row.count)
        .map(|name| Front {
            name,
            ..one.clone()
        })
        .collect()
}

/// The names of a row's copies.
fn names(name: &str, count: u32) -> impl Iterator<Item = String> {
    (1..=count).map(move |copy| match count {
        1 => name.to_owned(),
        _ => format!("{name}.{copy}"),
    })
}

/// Rows by the run they name; a row without a place takes its position among them.
fn members<'r>(rows: &'r [FrontRow<'_>]) -> BTreeMap<&'r str, Members> {
    let mut named: BTreeMap<&str, Members> = BTreeMap::new();
    for (index, row) in rows.iter().enumerate() {
        if let Some(run) = row.run.as_deref() {
            let members = named.entry(run).or_default();
            let position = i64::try_from(members.len() + 1).unwrap_or(i64::MAX);
            members.push((row.place.unwrap_or(position), index));
        }
    }
    for members in named.values_mut() {
        members.sort_unstable();
    }
    named
}

/// Runs in the order their first front stands in the file.
fn runs(
    rows: &[FrontRow<'_>],
    named: &BTreeMap<&str, Members>,
    fronts: &[Front],
    fronts_of: &[Range<usize>],
) -> Vec<Run> {
    let mut runs = Vec::new();
    let mut done = BTreeSet::new();
    for (row, own) in rows.iter().zip(fronts_of) {
        match row.run.as_deref() {
            None => runs.extend(own.clone().map(|front| Run {
                name: fronts[front].name.clone(),
                fronts: vec![front],
            })),
            Some(name) if done.insert(name) => {
                let members = named.get(name).into_iter().flatten();
                runs.push(Run {
                    name: name.to_owned(),
                    fronts: members
                        .flat_map(|&(_, row)| fronts_of[row].clone())
                        .collect(),
                });
            }
            Some(_) => {}
        }
    }
    runs
}

/// Every front's name, a copy's too, must be its own.
fn check_names(rows: &[FrontRow<'_>], faults: &mut Faults) {
    let mut taken: BTreeMap<String, usize> = BTreeMap::new();
    for (index, row) in rows.iter().enumerate() {
        let Some(name) = row.name.as_deref() else {
            continue;
        };
        let clash = names(name, row.count).find_map(|name| Some((*taken.get(&name)?, name)));
        if let Some((before, name)) = clash {
            let line = rows[before].line.number();
            let trouble = FrontTrouble::Twice { name, line };
            faults.push(Fault::new(row.line.place("front"), trouble));
        }
        taken.extend(names(name, row.count).map(|name| (name, index)));
    }
}

/// A front without a run is a run of that name; no other run may bear it. A run of one front
/// spelt almost like another run is probably a slip.
fn check_run_names(rows: &[FrontRow<'_>], named: &BTreeMap<&str, Members>, faults: &mut Faults) {
    for row in rows.iter().filter(|row| row.run.is_none()) {
        let Some(name) = row.name.as_deref() else {
            continue;
        };
        if names(name, row.count).any(|name| named.contains_key(name.as_str())) {
            faults.push(Fault::new(
                row.line.place("front"),
                FrontTrouble::NamedLikeRun,
            ));
        }
        if row.place.is_some() {
            faults.push(Fault::new(
                row.line.place("place"),
                FrontTrouble::PlaceWithoutRun,
            ));
        }
    }
    for (name, members) in named {
        let [(_, only)] = members[..] else {
            continue;
        };
        let longer = named.iter().filter(|(_, members)| members.len() > 1);
        let simple = |name: &str| name.to_lowercase().replace([' ', '-', '_'], "");
        let same = |other: &str| simple(other) == simple(name);
        let differ_by_number = |other: &str| letters(other) == letters(name);
        let others: Vec<&str> = longer.map(|(other, _)| *other).collect();
        let slip = others
            .iter()
            .copied()
            .find(|other| same(other))
            .map(str::to_owned);
        let near = others
            .into_iter()
            .filter(|other| !differ_by_number(other) && name.len() > 3);
        if let Some(nearest) = slip.or_else(|| nearest(name, near)) {
            let place = rows[only].line.place("run");
            faults.push(Fault::new(place, FrontTrouble::RunAlmost { nearest }));
        }
    }
}

/// A name without its digits: `row 1` and `row 2` are meant to differ.
fn letters(name: &str) -> String {
    let letters: String = name.chars().filter(|c| !c.is_ascii_digit()).collect();
    letters.trim().to_owned()
}

fn check_places(rows: &[FrontRow<'_>], members: &Members, faults: &mut Faults) {
    for pair in members.windows(2) {
        let [(before_place, before), (place, row)] = pair else {
            continue;
        };
        if before_place == place {
            let trouble = FrontTrouble::PlaceTaken {
                place: *place,
                line: rows[*before].line.number(),
                given: rows[*row].place.is_some() && rows[*before].place.is_some(),
            };
            faults.push(Fault::new(rows[*row].line.place("place"), trouble));
        }
    }
}

/// All fronts of a run read through, or all alike.
fn check_reads(rows: &[FrontRow<'_>], members: &Members, faults: &mut Faults) {
    let mut in_file_order: Vec<usize> = members.iter().map(|(_, row)| *row).collect();
    in_file_order.sort_unstable();
    let mut reads = in_file_order.into_iter().filter_map(|index| {
        let row = &rows[index];
        // A word that is none is told already.
        let written = row.line.text("reads");
        let known = written.is_empty() || Reads::from_word(&written).is_some();
        known.then_some((&row.line, row.front.as_ref()?.alike))
    });
    let Some((first, alike)) = reads.next() else {
        return;
    };
    for (line, _) in reads.filter(|(_, other)| *other != alike) {
        let line_of_it = first.number();
        let trouble = FrontTrouble::MixedReads {
            line: line_of_it,
            alike,
        };
        faults.push(Fault::new(line.place("reads"), trouble));
    }
}

fn check_grain(rows: &[FrontRow<'_>], members: &Members, faults: &mut Faults) {
    let mut in_file_order: Vec<usize> = members.iter().map(|(_, row)| *row).collect();
    in_file_order.sort_unstable();
    let mut grains = in_file_order.into_iter().filter_map(|index| {
        let row = &rows[index];
        Some((&row.line, row.front.as_ref()?.grain))
    });
    let Some((first, grain)) = grains.next() else {
        return;
    };
    for (line, _) in grains.filter(|(_, other)| *other != grain) {
        let trouble = FrontTrouble::MixedGrain {
            line: first.number(),
            grain,
        };
        faults.push(Fault::new(line.place("grain"), trouble));
    }
}
