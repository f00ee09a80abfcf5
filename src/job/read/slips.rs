//! What can be used as it is, and is probably a slip of the pen.

use std::collections::{BTreeMap, BTreeSet};

use super::Tables;
use super::boards::BoardRow;
use super::fronts::FrontRow;
use super::slip::Slip;
use crate::job::fault::{Fault, Faults};
use crate::job::table::{Line, Table};
use crate::job::{Front, Grain, Settings, Shape};
use crate::measure::{Length, Unit, odd_fraction};

/// The columns that hold lengths, table by table.
const BOARD_LENGTHS: &[&str] = &[
    "length",
    "width",
    "thickness",
    "bow",
    "cup",
    "twist",
    "crook",
    "trim_hook",
    "trim_far",
];
const FRONT_LENGTHS: &[&str] = &["width", "height", "thickness", "space_after", "rise"];
const DEFECT_LENGTHS: &[&str] = &["from", "to", "low", "high"];

/// Adds a warning for every slip.
pub(super) fn collect(
    settings: &Settings,
    tables: &Tables,
    boards: &[BoardRow<'_>],
    fronts: &[FrontRow<'_>],
    faults: &mut Faults,
) {
    for (table, columns) in [
        (&tables.boards, BOARD_LENGTHS),
        (&tables.fronts, FRONT_LENGTHS),
        (&tables.defects, DEFECT_LENGTHS),
    ] {
        if let Some(table) = table {
            odd_fractions(table, columns, faults);
        }
    }
    let usual = Usual::of(settings.unit);
    for row in boards {
        board(settings, &usual, row, faults);
    }
    for row in fronts {
        front(settings, &usual, row, faults);
    }
    let named = |row: &BoardRow<'_>| row.id.clone();
    capitals(
        boards.iter().map(|row| (row.line, "board", named(row))),
        faults,
    );
    let logs = boards
        .iter()
        .map(|row| (row.line, "log", row.line.some_text("log")));
    capitals(logs, faults);
    let names = fronts
        .iter()
        .map(|row| (row.line, "front", row.name.clone()));
    capitals(names, faults);
    let runs = fronts.iter().map(|row| (row.line, "run", row.run.clone()));
    capitals(runs, faults);
    one_size_in_a_run(settings, fronts, faults);
}

fn odd_fractions(table: &Table, columns: &[&'static str], faults: &mut Faults) {
    for line in table.lines() {
        for column in columns {
            if let Some(fraction) = odd_fraction(&line.text(column)) {
                faults.push(Fault::new(
                    line.place(column),
                    Slip::OddFraction { fraction },
                ));
            }
        }
    }
}

/// Sizes beyond which a board or a front is met so seldom that a slip is likelier. Common
/// practice, no source.
struct Usual {
    shortest: Length,
    longest: Length,
    widest: Length,
    thickest: Length,
    largest_front: Length,
}

impl Usual {
    fn of(unit: Unit) -> Usual {
        let size = |inches, mm| Length::round_in(unit, inches, mm);
        Usual {
            shortest: size(12.0, 300.0),
            longest: size(288.0, 7500.0),
            widest: size(36.0, 1000.0),
            thickest: size(5.0, 125.0),
            largest_front: size(144.0, 3600.0),
        }
    }
}

fn board(settings: &Settings, usual: &Usual, row: &BoardRow<'_>, faults: &mut Faults) {
    let Some(board) = &row.board else { return };
    let show = |length| settings.ruler().show_with_unit(length);
    let mut tell = |column, slip| faults.push(Fault::new(row.line.place(column), slip));
    let seldom = |what, most| Slip::Seldom {
        what,
        most: show(most),
    };
    let allowances = &settings.allowances;
    let used_up = |trims, trim| Slip::UsedUp {
        trims,
        trim: show(trim),
    };
    if board.clear_length(allowances) == Length::ZERO {
        let [hook, far] = board.trims(allowances);
        tell("length", used_up("end trims of", hook.max(far)));
    } else if board.width <= allowances.edge_trim * 2 {
        tell("width", used_up("edge trims of", allowances.edge_trim));
    } else if board.width > board.length {
        tell("width", Slip::Swapped);
    } else if board.length < usual.shortest {
        let unit = settings.unit;
        tell("length", Slip::Short { unit });
    } else if board.width > usual.widest {
        tell("width", seldom("wider", usual.widest));
    }
    if board.length > usual.longest {
        tell("length", seldom("longer", usual.longest));
    }
    if board.thickness > usual.thickest {
        tell("thickness", thick(settings, usual, row.line));
    }
}

fn front(settings: &Settings, usual: &Usual, row: &FrontRow<'_>, faults: &mut Faults) {
    let Some(front) = &row.front else { return };
    let most = settings.ruler().show_with_unit(usual.largest_front);
    for (column, size) in [("width", front.width), ("height", front.height)] {
        if size > usual.largest_front {
            let (what, most) = ("larger", most.clone());
            faults.push(Fault::new(
                row.line.place(column),
                Slip::Seldom { what, most },
            ));
        }
    }
    if front.thickness > usual.thickest {
        let slip = thick(settings, usual, row.line);
        faults.push(Fault::new(row.line.place("thickness"), slip));
    }
    if let Shape::Arch { rise } = front.shape
        && rise * 2 > front.width
    {
        faults.push(Fault::new(row.line.place("rise"), Slip::SteepArch));
    }
}

/// A thickness beyond measure: `54` is how `5/4` looks without its stroke.
fn thick(settings: &Settings, usual: &Usual, line: Line<'_>) -> Slip {
    let written = line.text("thickness");
    let quarters = match (settings.unit, written.strip_suffix('4')) {
        (Unit::Inch, Some(top)) if top.parse::<u32>().is_ok() => Some(format!("{top}/4")),
        _ => None,
    };
    Slip::Thick {
        most: settings.ruler().show_with_unit(usual.thickest),
        quarters,
    }
}

/// Names that only their capitals set apart, each told once.
fn capitals<'t>(
    names: impl Iterator<Item = (Line<'t>, &'static str, Option<String>)>,
    faults: &mut Faults,
) {
    let mut spelt: BTreeMap<String, (String, usize)> = BTreeMap::new();
    let mut told: BTreeSet<String> = BTreeSet::new();
    for (line, column, name) in names {
        let Some(name) = name else { continue };
        let key = name.to_lowercase();
        let (other, at) = spelt
            .entry(key)
            .or_insert_with(|| (name.clone(), line.number()));
        if *other != name && !told.contains(&name) {
            let (other, line_of_it) = (other.clone(), *at);
            let slip = Slip::Capitals {
                other,
                line: line_of_it,
            };
            faults.push(Fault::new(line.place(column), slip));
            told.insert(name);
        }
    }
}

/// Fronts of one run stand in one row: those not as high as the first (not as wide, where the
/// grain is vertical) are told. Arches are as high as they must be.
fn one_size_in_a_run(settings: &Settings, rows: &[FrontRow<'_>], faults: &mut Faults) {
    let arches = &settings.fitting.arches;
    let arched = |front: &Front| {
        front.shape != Shape::Square || arches.iter().any(|arch| arch.fronts.contains(&front.name))
    };
    let mut first: BTreeMap<&str, (Length, usize)> = BTreeMap::new();
    for row in rows {
        let (Some(run), Some(front)) = (row.run.as_deref(), &row.front) else {
            continue;
        };
        if arched(front) {
            continue;
        }
        let size = front.across();
        let (usual, line) = *first.entry(run).or_insert((size, row.line.number()));
        if size != usual {
            let column = match front.grain {
                Grain::Horizontal => "height",
                Grain::Vertical => "width",
            };
            let usual = settings.ruler().for_finished(usual).show_with_unit(usual);
            let slip = Slip::Uneven {
                column,
                usual,
                line,
            };
            faults.push(Fault::new(row.line.place(column), slip));
        }
    }
}
