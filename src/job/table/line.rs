//! One row of a table, asked cell by cell.

use super::scan::RawCell;
use super::{Cell, CellTrouble, Table};
use crate::job::fault::{Fault, Faults, Place};

/// One row of a table.
#[derive(Clone, Copy, Debug)]
pub struct Line<'a> {
    table: &'a Table,
    cells: &'a [RawCell],
}

impl<'a> Line<'a> {
    pub(super) fn new(table: &'a Table, cells: &'a [RawCell]) -> Line<'a> {
        Line { table, cells }
    }

    /// The cell under a column, when there is such a column; an empty cell when the row is
    /// shorter than the header.
    pub fn cell(&self, column: &'static str) -> Option<Cell> {
        let position = self.table.header.position(column)?;
        let (text, span, quoted) = match self.cells.get(position) {
            Some(cell) => (cell.text.as_str(), cell.span.clone(), cell.quoted),
            None => {
                let end = self.cells.last().map_or(0, |cell| cell.span.end);
                ("", end..end, false)
            }
        };
        let place = Place::span_of(&self.table.source, span).named(column, text);
        let comma = quoted || self.table.separator == b';';
        Some(Cell::new(place, self.table.unit, comma))
    }

    /// The value of a cell that must be filled in. An empty cell is a fault; a missing column
    /// has been reported with the header already.
    pub fn need<T>(
        &self,
        column: &'static str,
        faults: &mut Faults,
        read: impl FnOnce(&Cell) -> Result<T, Fault>,
    ) -> Option<T> {
        let cell = self.cell(column)?;
        if cell.text().is_empty() {
            faults.push(cell.fault(CellTrouble::Empty));
            return None;
        }
        faults.keep(read(&cell))
    }

    /// The value of a cell that may be empty or missing; nothing also when it is faulty.
    pub fn get<T>(
        &self,
        column: &'static str,
        faults: &mut Faults,
        read: impl FnOnce(&Cell) -> Result<T, Fault>,
    ) -> Option<T> {
        let cell = self.cell(column)?;
        if cell.text().is_empty() {
            return None;
        }
        faults.keep(read(&cell))
    }

    /// The text of a cell, empty when there is none.
    pub fn text(&self, column: &'static str) -> String {
        self.cell(column)
            .map(|cell| cell.text().to_owned())
            .unwrap_or_default()
    }

    /// The text of a cell, or nothing when it is empty.
    pub fn some_text(&self, column: &'static str) -> Option<String> {
        Some(self.text(column)).filter(|text| !text.is_empty())
    }

    /// Where a fault of this cell, or else of the whole row, is reported.
    pub fn place(&self, column: &'static str) -> Place {
        match self.cell(column) {
            Some(cell) => cell.place().clone(),
            None => self.whole(),
        }
    }

    /// The line of the file it begins on, counted from 1.
    pub fn number(&self) -> usize {
        self.whole().line().unwrap_or(1)
    }

    /// The whole row.
    pub fn whole(&self) -> Place {
        let start = self.cells.first().map_or(0, |cell| cell.span.start);
        let end = self.cells.last().map_or(start, |cell| cell.span.end);
        Place::span_of(&self.table.source, start..end)
    }
}
