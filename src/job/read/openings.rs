//! `openings.csv`: one row a measured opening; and which fronts stand under a shared arch.

use std::collections::BTreeMap;

use super::fronts::FrontRow;
use crate::job::fault::{Fault, Faults, Trouble, nearest};
use crate::job::fitting::{BEVEL_ANGLES, BevelSize, Measure, Measured, Opening, OwnBevel, Places};
use crate::job::table::{Columns, Line, Table};
use crate::job::{Front, SharedArch};

/// The columns of `openings.csv`.
pub(in crate::job) const COLUMNS: Columns = Columns {
    required: &["front", "left", "right", "top", "bottom"],
    optional: &[
        "diagonal_up",
        "diagonal_down",
        "bevel",
        "bevel_face",
        "bevel_drop",
        "bevel_angle",
        "pulls",
        "anchor",
        "cut",
        "notes",
    ],
};

/// What can be wrong with a row of `openings.csv`, or with a front an arch names.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum OpeningTrouble {
    /// A front that is not in `fronts.csv`.
    #[error("there is no front {name} in fronts.csv")]
    UnknownFront {
        /// As written.
        name: String,
        /// The front it was probably meant to be.
        nearest: Option<String>,
    },
    /// The name of several copies.
    #[error("{name} stands for {count} fronts, and each has an opening of its own")]
    Counted {
        /// As written.
        name: String,
        /// How many.
        count: u32,
    },
    /// A second row for one front.
    #[error("this front's opening stands in line {line} already")]
    Twice {
        /// Where it stood first.
        line: usize,
    },
    /// A size for a bevel that is not wanted.
    #[error("this front has no bevel, and here is a size for one")]
    SizeOfNoBevel,
    /// A bevel that is wanted, but nothing gives its size.
    #[error("nothing says how large the bevel is")]
    BevelWithoutSize,
    /// One front under two arches.
    #[error("front {name} stands under two arches")]
    UnderTwoArches {
        /// The front.
        name: String,
    },
    /// A front with an arch of its own under a shared one.
    #[error("front {name} has an arch of its own in fronts.csv")]
    OwnArchToo {
        /// The front.
        name: String,
    },
}

impl Trouble for OpeningTrouble {
    fn expected(&self) -> Option<String> {
        Some(match self {
            OpeningTrouble::UnknownFront { .. } => "the name of a front".into(),
            OpeningTrouble::Counted { name, .. } => format!("one copy, such as {name}.1"),
            OpeningTrouble::Twice { .. } => "one opening a front".into(),
            OpeningTrouble::SizeOfNoBevel => "an empty cell, or `yes` under `bevel`".into(),
            OpeningTrouble::BevelWithoutSize => {
                "two of bevel_face, bevel_drop and bevel_angle, or a [bevel] in job.toml".into()
            }
            OpeningTrouble::UnderTwoArches { .. } => "each front under one arch".into(),
            OpeningTrouble::OwnArchToo { .. } => "`square` as its shape there".into(),
        })
    }

    fn hint(&self) -> Option<String> {
        match self {
            OpeningTrouble::UnknownFront {
                nearest: Some(name),
                ..
            } => Some(format!("did you mean `{name}`?")),
            OpeningTrouble::OwnArchToo { .. } => Some(
                "the shared arch gives it its curve; its height is to its highest point".into(),
            ),
            _ => None,
        }
    }
}

/// Reads all rows. `ruled_bevel` says whether the job has a bevel for all fronts.
pub(super) fn read(
    table: &Table,
    rows: &[FrontRow<'_>],
    fronts: &[Front],
    ruled_bevel: bool,
    faults: &mut Faults,
) -> Vec<Opening> {
    let mut taken: BTreeMap<String, usize> = BTreeMap::new();
    let mut openings = Vec::new();
    for line in table.lines() {
        let name = line.need("front", faults, |cell| cell.name());
        let opening = read_row(line, ruled_bevel, faults);
        let Some(name) = name else { continue };
        if let Some(trouble) = wrong_name(&name, rows, fronts) {
            faults.push(Fault::new(line.place("front"), trouble));
            continue;
        }
        if let Some(&line_before) = taken.get(&name) {
            let trouble = OpeningTrouble::Twice { line: line_before };
            faults.push(Fault::new(line.place("front"), trouble));
            continue;
        }
        taken.insert(name.clone(), line.number());
        let front = fronts.iter().position(|front| front.name == name);
        if let (Some(front), Some(opening)) = (front, opening) {
            openings.push(Opening { front, ..opening });
        }
    }
    openings
}

/// Checks the fronts that arches name.
pub(super) fn check_arches(
    arches: &[SharedArch],
    rows: &[FrontRow<'_>],
    fronts: &[Front],
    faults: &mut Faults,
) {
    let mut under: Vec<&str> = Vec::new();
    for arch in arches {
        let place = || arch.places.at("job.toml", &["fronts"]);
        for name in &arch.fronts {
            let front = fronts.iter().find(|front| &front.name == name);
            let own = front.is_some_and(|front| front.shape != crate::job::Shape::Square);
            let name = name.clone();
            let trouble = match wrong_name(&name, rows, fronts) {
                Some(trouble) => trouble,
                None if under.contains(&name.as_str()) => OpeningTrouble::UnderTwoArches { name },
                None if own => OpeningTrouble::OwnArchToo { name },
                None => continue,
            };
            faults.push(Fault::new(place(), trouble));
        }
        under.extend(arch.fronts.iter().map(String::as_str));
    }
}

/// What is wrong with the name of a front; nothing when it is one, or would be if its row
/// could be read.
fn wrong_name(name: &str, rows: &[FrontRow<'_>], fronts: &[Front]) -> Option<OpeningTrouble> {
    if fronts.iter().any(|front| front.name == name) {
        return None;
    }
    let name = name.to_owned();
    let row = rows.iter().find(|row| row.name.as_ref() == Some(&name));
    match row {
        Some(row) if row.count > 1 => Some(OpeningTrouble::Counted {
            name,
            count: row.count,
        }),
        Some(_) => None,
        None => {
            let nearest = nearest(&name, fronts.iter().map(|front| front.name.as_str()));
            Some(OpeningTrouble::UnknownFront { name, nearest })
        }
    }
}

fn read_row(line: Line<'_>, ruled_bevel: bool, faults: &mut Faults) -> Option<Opening> {
    let mut side = |column| line.need(column, faults, |cell| cell.size());
    let (left, right) = (side("left"), side("right"));
    let (top, bottom) = (side("top"), side("bottom"));
    let before = faults.len();
    let mut diagonal = |column| line.get(column, faults, |cell| cell.size());
    let (diagonal_up, diagonal_down) = (diagonal("diagonal_up"), diagonal("diagonal_down"));
    let bevel = read_bevel(line, ruled_bevel, faults);
    let pulls = line.get("pulls", faults, |cell| cell.whole(0..=2));
    let anchor = line.get("anchor", faults, |cell| cell.choice());
    let cut = line.get("cut", faults, |cell| cell.choice());
    if faults.len() > before {
        return None;
    }
    Some(Opening {
        front: 0,
        measured: Measured {
            left: left?,
            right: right?,
            top: top?,
            bottom: bottom?,
            diagonal_up,
            diagonal_down,
        },
        bevel,
        pulls: pulls.and_then(|count| u32::try_from(count).ok()),
        anchor,
        cut,
        notes: line.text("notes"),
        places: places(line),
    })
}

fn read_bevel(line: Line<'_>, ruled: bool, faults: &mut Faults) -> OwnBevel {
    let wanted: Option<bool> = line.get("bevel", faults, |cell| cell.choice());
    let before = faults.len();
    let face = line.get("bevel_face", faults, |cell| cell.size());
    let drop = line.get("bevel_drop", faults, |cell| cell.size());
    let angle = line.get("bevel_angle", faults, |cell| cell.number(BEVEL_ANGLES));
    let written = ["bevel_face", "bevel_drop", "bevel_angle"]
        .into_iter()
        .find(|column| !line.text(column).is_empty());
    match (wanted, written) {
        (Some(false), Some(column)) => {
            faults.push(Fault::new(
                line.place(column),
                OpeningTrouble::SizeOfNoBevel,
            ));
            OwnBevel::None
        }
        (Some(false), None) => OwnBevel::None,
        (Some(true), None) if !ruled => {
            faults.push(Fault::new(
                line.place("bevel"),
                OpeningTrouble::BevelWithoutSize,
            ));
            OwnBevel::None
        }
        (_, None) => OwnBevel::AsRuled,
        (_, Some(_)) if faults.len() > before => OwnBevel::None,
        (_, Some(column)) => match BevelSize::of(face, drop, angle) {
            Ok(size) => OwnBevel::Own(size),
            Err(trouble) => {
                faults.push(Fault::new(line.place(column), trouble));
                OwnBevel::None
            }
        },
    }
}

/// Where the cells stand that a later fault may point at.
fn places(line: Line<'_>) -> Places {
    let mut places = Places::default();
    let bevel = ["bevel_drop", "bevel_face", "bevel_angle"].into_iter();
    let measures = Measure::ALL.into_iter().map(Measure::column);
    let measures = measures.chain(["anchor", "cut"]);
    for column in measures.chain(bevel.filter(|column| !line.text(column).is_empty())) {
        places.keep(column, line.place(column));
    }
    places
}
