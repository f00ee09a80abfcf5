//! `[case]`: how the fronts stand, for the elevation.

use super::{Keys, Section};
use crate::job::table::Cell;
use crate::measure::Length;

/// How the fronts stand on the case. What is not said is guessed, and said to be, where the case is
/// drawn; no plan depends on it.
#[derive(Clone, Debug, Default)]
pub struct Case {
    /// Of the case, outside.
    pub width: Option<Length>,
    /// Of the case, outside.
    pub height: Option<Length>,
    /// Between two rows.
    pub rail: Option<Length>,
    /// From top to bottom; each row the names of its runs or fronts from left to right.
    pub rows: Vec<Vec<String>>,
    /// Where the names of the rows stand in the file.
    pub(in crate::job) cells: Vec<Vec<Cell>>,
}

/// Where it is written says nothing about the case itself.
impl PartialEq for Case {
    fn eq(&self, other: &Case) -> bool {
        (self.width, self.height, self.rail, &self.rows)
            == (other.width, other.height, other.rail, &other.rows)
    }
}

impl Section for Case {
    const NAME: &'static str = "case";

    fn read(&mut self, keys: &mut Keys<'_>) {
        for (key, slot) in [("width", &mut self.width), ("height", &mut self.height)] {
            keys.value(key, LENGTH, slot, |cell| said(cell, Cell::size));
        }
        keys.value("rail", LENGTH, &mut self.rail, |cell| {
            said(cell, Cell::distance)
        });
        let rows = keys.rows(
            "rows",
            "a list of rows such as [[\"top\"], [\"left\", \"right\"]]",
        );
        self.cells = rows.unwrap_or_default();
        let names = |row: &Vec<Cell>| row.iter().map(|cell| cell.text().to_owned()).collect();
        self.rows = self.cells.iter().map(names).collect();
    }
}

const LENGTH: &str = "a length, or \"\" for none";

/// A value, or nothing where only quotation marks stand.
fn said<T, E>(cell: &Cell, read: impl Fn(&Cell) -> Result<T, E>) -> Result<Option<T>, E> {
    match cell.text() {
        "" => Ok(None),
        _ => read(cell).map(Some),
    }
}
