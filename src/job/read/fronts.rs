//! `fronts.csv`: one row a front, or several alike.

use super::boards::BoardRow;
use super::trouble::FrontTrouble;
use crate::job::choice::Choice;
use crate::job::fault::{Fault, Faults, nearest};
use crate::job::table::{Columns, Line, Table};
use crate::job::{Front, Shape, Stand};
use crate::measure::Length;

/// The columns of `fronts.csv`.
pub(in crate::job) const COLUMNS: Columns = Columns {
    required: &["front", "width", "height", "thickness"],
    optional: &[
        "run",
        "place",
        "grain",
        "count",
        "space_after",
        "shape",
        "rise",
        "board",
        "not_board",
        "reads",
        "mode",
        "across",
        "up",
        "glue",
        "notes",
    ],
};

/// More fronts than any one piece has; beyond it a count is a slip.
const MOST_COPIES: i64 = 10_000;
/// Far beyond any place in a run.
const PLACES: std::ops::RangeInclusive<i64> = 0..=100_000;

/// One row: what could be read of it.
#[derive(Debug)]
pub(super) struct FrontRow<'t> {
    pub line: Line<'t>,
    pub name: Option<String>,
    /// The front without its copy's number, when all its cells could be read.
    pub front: Option<Front>,
    /// The run it names.
    pub run: Option<String>,
    /// The place it names.
    pub place: Option<i64>,
    /// How many alike.
    pub count: u32,
}

/// An outline by its word; the arch's rise has a column of its own.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
enum Outline {
    #[default]
    Square,
    Arch,
}

impl Choice for Outline {
    const WORDS: &'static [(&'static str, Outline)] =
        &[("square", Outline::Square), ("arch", Outline::Arch)];
}

/// How the grain of a run's fronts is to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Reads {
    /// The grain runs on from one to the next.
    Through,
    /// They look alike side by side.
    Alike,
}

impl Choice for Reads {
    const WORDS: &'static [(&'static str, Reads)] =
        &[("through", Reads::Through), ("alike", Reads::Alike)];
}

/// Reads all rows. `boards` are those a front may ask for; nothing when there are none to
/// compare with.
pub(super) fn read<'t>(
    table: &'t Table,
    boards: Option<&[BoardRow<'_>]>,
    faults: &mut Faults,
) -> Vec<FrontRow<'t>> {
    let rows: Vec<FrontRow<'t>> = table.lines().map(|line| read_row(line, faults)).collect();
    for row in &rows {
        if let Some(boards) = boards {
            check_boards(row, boards, faults);
        }
    }
    if rows.is_empty() && table.has_header() {
        faults.push(Fault::new(table.place(), FrontTrouble::None));
    }
    rows
}

fn read_row<'t>(line: Line<'t>, faults: &mut Faults) -> FrontRow<'t> {
    let name = line.need("front", faults, |cell| cell.name());
    let count = line.get("count", faults, |cell| cell.whole(1..=MOST_COPIES));
    FrontRow {
        line,
        front: read_front(line, name.clone(), faults),
        name,
        run: line.get("run", faults, |cell| cell.name()),
        place: line.get("place", faults, |cell| cell.whole(PLACES)),
        count: count
            .and_then(|count| u32::try_from(count).ok())
            .unwrap_or(1),
    }
}

fn read_front(line: Line<'_>, name: Option<String>, faults: &mut Faults) -> Option<Front> {
    let width = line.need("width", faults, |cell| cell.size());
    let height = line.need("height", faults, |cell| cell.size());
    let thickness = line.need("thickness", faults, |cell| cell.size());
    let grain = line.get("grain", faults, |cell| cell.choice());
    let space_after = line.get("space_after", faults, |cell| cell.distance());
    let shape = read_shape(line, height, faults);
    let mode = line.get("mode", faults, |cell| cell.choice());
    let reads = line.get("reads", faults, |cell| cell.choice());
    let stands = read_stand(line, faults);
    let glue_asked = line.get("glue", faults, |cell| cell.choice());
    Some(Front {
        name: name?,
        width: width?,
        height: height?,
        thickness: thickness?,
        grain: grain.unwrap_or_default(),
        space_after,
        shape: shape?,
        boards: names(line, "board"),
        not_boards: names(line, "not_board"),
        alike: reads == Some(Reads::Alike),
        with_next: false,
        glue: false,
        glue_asked,
        sawn: None,
        mode,
        stands,
        notes: line.text("notes"),
    })
}

/// Where the front stands on the case: both distances, and of one front.
fn read_stand(line: Line<'_>, faults: &mut Faults) -> Option<Stand> {
    let across = line.get("across", faults, |cell| cell.distance());
    let up = line.get("up", faults, |cell| cell.distance());
    let written = ["across", "up"].map(|column| !line.text(column).is_empty());
    let count = line.text("count").parse::<i64>().unwrap_or(1);
    match written {
        [false, false] => return None,
        [true, true] if count > 1 => {
            let place = line.place("across");
            faults.push(Fault::new(place, FrontTrouble::PlaceOfMany { count }));
        }
        [true, true] => {}
        [across, _] => {
            let missing = if across { "up" } else { "across" };
            let place = line.place(if across { "across" } else { "up" });
            faults.push(Fault::new(place, FrontTrouble::HalfAPlace { missing }));
        }
    }
    Some(Stand {
        across: across?,
        up: up?,
    })
}

fn read_shape(line: Line<'_>, height: Option<Length>, faults: &mut Faults) -> Option<Shape> {
    let outline = line
        .get("shape", faults, |cell| cell.choice())
        .unwrap_or_default();
    let rise = line.get("rise", faults, |cell| cell.size());
    let written = !line.text("rise").is_empty();
    match outline {
        Outline::Square if written => {
            faults.push(Fault::new(line.place("rise"), FrontTrouble::RiseOfSquare));
            None
        }
        Outline::Square => Some(Shape::Square),
        Outline::Arch if !written => {
            faults.push(Fault::new(
                line.place("shape"),
                FrontTrouble::ArchWithoutRise,
            ));
            None
        }
        Outline::Arch => {
            let rise = rise?;
            if height.is_some_and(|height| rise >= height) {
                faults.push(Fault::new(line.place("rise"), FrontTrouble::ArchAboveFront));
            }
            Some(Shape::Arch { rise })
        }
    }
}

/// The names in a cell, with `|` between.
fn names(line: Line<'_>, column: &'static str) -> Vec<String> {
    let text = line.text(column);
    let names = text.split('|').map(str::trim);
    names
        .filter(|name| !name.is_empty())
        .map(Into::into)
        .collect()
}

/// Boards named must be there, and none is both asked for and barred.
fn check_boards(row: &FrontRow<'_>, boards: &[BoardRow<'_>], faults: &mut Faults) {
    let known = || boards.iter().filter_map(|board| board.id.as_deref());
    for column in ["board", "not_board"] {
        for wanted in names(row.line, column) {
            if !known().any(|id| id == wanted) {
                let nearest = nearest(&wanted, known());
                let trouble = FrontTrouble::UnknownBoard { nearest };
                let place = row.line.place(column).named(column, &wanted);
                faults.push(Fault::new(place, trouble));
            }
        }
    }
    let asked = names(row.line, "board");
    for barred in names(row.line, "not_board") {
        if asked.contains(&barred) {
            let place = row.line.place("not_board").named("not_board", &barred);
            faults.push(Fault::new(place, FrontTrouble::BoardBothWays));
        }
    }
}
